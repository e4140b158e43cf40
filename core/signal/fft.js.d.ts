declare module 'fft.js' {
  /** Complex transforms of a power-of-two size over interleaved arrays (real, imaginary, real, …). */
  export default class FFT {
    constructor(size: number);
    createComplexArray(): number[];
    transform(out: number[], data: number[]): void;
  }
}
