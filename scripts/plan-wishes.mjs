// Wishes of the plan study. Both meters alike unless said; displays of a thousandth of the power
// unless said; certificates with k = 2.
const wish = (wanted, certificate, placement, noise, more = {}) => ({
  wanted,
  confidence: 0.95,
  certificate: { expanded_uncertainty: certificate, coverage_factor: 2 },
  noise: { reference: noise, candidate: noise },
  ...(placement === null ? {} : { placement }),
  display: { level_mW: 50, step_mW: { reference: 0.05, candidate: 0.05 } },
  ...more,
});

export const WISHES = [
  wish(0.03, 0.02, 0.005, 0.008),
  wish(0.03, 0.01, 0.01, 0.005),
  wish(0.03, 0.02, 0.005, 0.003, { source_noise: 0.007 }),
  wish(0.04, 0.02, 0.01, 0.008),
  wish(0.04, 0.02, null, 0.008),
  wish(0.04, 0.01, 0.01, 0.01),
  wish(0.04, 0.03, 0.005, 0.007),
  wish(0.04, 0.02, 'jig', 0.01),
  wish(0.05, 0.02, null, 0.014),
  wish(0.06, 0.01, 0.02, 0.003),
  wish(0.06, 0.03, 0.01, 0.015),
  wish(0.06, 0.03, 'by-hand', 0.003),
  wish(0.06, 0.02, 0.01, 0.008, {
    display: { level_mW: 30, step_mW: { reference: 0.1, candidate: 1 } },
  }),
];
