/** The part of jstat that the package uses; jstat ships no types. */
declare module 'jstat' {
  interface Distribution1 {
    pdf(x: number, a: number): number;
    cdf(x: number, a: number): number;
    inv(p: number, a: number): number;
  }
  interface Distribution2 {
    pdf(x: number, a: number, b: number): number;
    cdf(x: number, a: number, b: number): number;
    inv(p: number, a: number, b: number): number;
  }
  interface JStat {
    normal: Distribution2;
    studentt: Distribution1;
    chisquare: Distribution1;
    centralF: Distribution2;
    beta: Distribution2;
    gammaln(x: number): number;
  }
  const module: { jStat: JStat };
  export default module;
}
