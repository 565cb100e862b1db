/** Bland and Altman, Lancet 327 (1986) 307: peak flow in l/min, first readings of both meters. */
export const PEAK_FLOW = {
  reference: [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427],
  candidate: [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451],
};
