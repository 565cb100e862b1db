/** Sentences in a row; those that are empty leave no gap. */
export const sentences = (parts: readonly string[]): string =>
  parts.filter((part) => part !== '').join(' ');

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
