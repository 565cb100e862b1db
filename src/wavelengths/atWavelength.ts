/** When two wavelengths count as one. */

/** A reading so near a measured wavelength counts as taken at it, nm (common practice, no source). */
export const SAME_WAVELENGTH_NM = 2;

/** The entry nearest to a wavelength that counts as the same; `undefined` when none does. */
export function atWavelength<T extends { readonly wavelength_nm: number }>(
  list: readonly T[],
  nm: number,
): T | undefined {
  const distance = (one: T) => Math.abs(one.wavelength_nm - nm);
  return list
    .filter((one) => distance(one) <= SAME_WAVELENGTH_NM)
    .sort((a, b) => distance(a) - distance(b))[0];
}
