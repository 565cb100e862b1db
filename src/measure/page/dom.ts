/** Elements from data. Text goes in as text, so that no name of a file becomes markup. */

type Child = Node | string | null;

export function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Readonly<Record<string, string>>,
  ...children: readonly Child[]
): HTMLElementTagNameMap[Tag] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children.filter((child) => child !== null).map(unbroken));
  return made;
}

/** A number stays with its sign and its unit. */
function unbroken(child: Node | string): Node | string {
  if (typeof child !== 'string') return child;
  return child
    .replaceAll('± ', '±\u00a0')
    .replaceAll(/(\d) (mW|W|µW|nm|s)\b/g, '$1\u00a0$2')
    .replaceAll(/(\d) %/g, '$1\u00a0%');
}

export function drawing(
  tag: string,
  attributes: Readonly<Record<string, string | number>>,
  ...children: readonly Child[]
): SVGElement {
  const made = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** A paragraph with a look of its own. */
export const para = (look: string, ...children: readonly Child[]): HTMLElement =>
  element('p', { class: look }, ...children);

export const lines = (tag: 'p' | 'li', texts: readonly string[]): readonly HTMLElement[] =>
  texts.map((text) => element(tag, {}, text));
