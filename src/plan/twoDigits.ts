/** Two digits, rounded towards what is surely enough. */

const unit = (value: number) => 10 ** (Math.floor(Math.log10(value)) - 1);

export const roundedUp = (value: number): number =>
  +(Math.ceil(value / unit(value) - 1e-9) * unit(value)).toPrecision(2);

export const roundedDown = (value: number): number =>
  +(Math.floor(value / unit(value) + 1e-9) * unit(value)).toPrecision(2);
