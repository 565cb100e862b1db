/** Text from a file never becomes markup, script or a terminal command. */

/** Safe in HTML text and in a quoted attribute. */
export function escapeHtml(text: string): string {
  return withoutControls(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** JSON that can stand inside a script element: no `<` is left to end it. */
export function embedJson(value: unknown): string {
  return JSON.stringify(value)
    .replaceAll('<', '\\u003c')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029');
}

/** A script from a library, inside a script element: its strings cannot end the element. */
export function embedScript(code: string): string {
  return code.replaceAll(/<\/(script)/gi, '<\\/$1').replaceAll('<!--', '<\\!--');
}

/** Drops control characters, which could steer a terminal; line breaks and tabs become spaces. */
export function withoutControls(text: string): string {
  return (
    text
      .replaceAll(/[\t\r\n]+/g, ' ')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what has to go
      .replaceAll(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, '')
  );
}

/**
 * Control characters and direction marks as what they are called, `\u001b`: for texts that are kept as
 * text, where they would steer whatever shows them. Line breaks and tabs stay.
 */
export function visibleControls(text: string): string {
  return text.replaceAll(
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what has to be seen
    /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g,
    (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
