import type { PublishedSource } from './figure.js';
import { certified, fitFrom } from './stepResponse.js';

const x = [1, 2, 3, 5, 7, 10];
const y = [109, 149, 149, 191, 213, 224];
export const fits = [fitFrom(x, y, [1, 1]), fitFrom(x, y, [100, 0.75])] as const;

export const sources: readonly PublishedSource[] = [
  {
    // G. P. Box, W. G. Hunter, J. S. Hunter (1978), Statistics for Experimenters, pp. 483–487
    source:
      'NIST StRD, BoxBOD (level of difficulty: higher), certified to 11 digits, the worse of two starts',
    read: 'the tests of the GNU Scientific Library',
    figures: certified(
      {
        b1: '213.80940889',
        b2: '0.54723748542',
        's(b1)': '12.354515176',
        's(b2)': '0.10455993237',
        'residual sum of squares': '1168.0088766',
      },
      fits,
    ),
  },
];
