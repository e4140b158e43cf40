declare module 'fft.js' {
  /** Complex transforms of a power-of-two size over interleaved arrays (real, imaginary, real, …). */
  export default class FFT {
    constructor(size: number);
    /** cos and −sin of 2π·k/size for k from 0 to size − 1, interleaved. */
    readonly table: number[];
    createComplexArray(): number[];
    transform(out: number[], data: number[]): void;
  }
}
