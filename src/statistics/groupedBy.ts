/** Values by their key; keys, and the values of each, in the order in which they come. */
export function groupedBy<K, V>(pairs: Iterable<readonly [key: K, value: V]>): Map<K, V[]> {
  const groups = new Map<K, V[]>();
  for (const [key, value] of pairs) {
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [value]);
    else group.push(value);
  }
  return groups;
}
