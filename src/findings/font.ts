/** The letters of every page and figure: those of the system, with all signs that a page may need. */
export const FONT = 'system-ui, "Segoe UI", "DejaVu Sans", sans-serif';
