/** What the tests use of Verovio, which ships no types: an independent reader of MusicXML. */
declare module 'verovio/wasm' {
  const createVerovioModule: () => Promise<object>;
  export default createVerovioModule;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: object);
    loadData(data: string): boolean | number;
    renderToTimemap(options: object): { qstamp: number; on?: string[]; off?: string[] }[];
    getMIDIValuesForElement(id: string): { pitch: number; duration: number; time: number };
    renderToMIDI(): string;
    renderToSVG(page: number): string;
    getPageCount(): number;
    getMEI(options: object): string;
    setOptions(options: object): void;
  }
}
