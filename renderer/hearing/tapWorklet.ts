// Runs on the audio thread (Web Audio API, AudioWorklet): passes what the microphone gives on to the ear, and nothing
// to the loudspeaker.

/** What the audio thread has, as far as it is used; the DOM's own types leave it out. */
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare const registerProcessor: (name: string, processor: typeof AudioWorkletProcessor) => void;
declare const currentFrame: number;

/** Samples of one message: two render quanta, 5 ms. */
const PIECE = 256;

class Tap extends AudioWorkletProcessor {
  #ear: MessagePort | undefined;
  #piece = new Float32Array(PIECE);
  #filled = 0;

  constructor() {
    super();
    this.port.onmessage = (event: MessageEvent<MessagePort | undefined>) => {
      this.#ear = event.data;
    };
  }

  process([input]: readonly (readonly Float32Array[])[]): boolean {
    const channels = input ?? [];
    // A microphone that is gone gives no channel; to the ear that is silence, for time goes on.
    const length = channels[0]?.length ?? 128;
    for (let i = 0; i < length; i++) {
      let sum = 0;
      for (const channel of channels) sum += channel[i] ?? 0;
      this.#piece[this.#filled] = channels.length === 0 ? 0 : sum / channels.length;
      this.#filled += 1;
      if (this.#filled === PIECE) this.#send(currentFrame + i + 1 - PIECE);
    }
    return true;
  }

  #send(frame: number): void {
    const samples = this.#piece;
    this.#piece = new Float32Array(PIECE);
    this.#filled = 0;
    this.#ear?.postMessage({ frame, samples }, [samples.buffer]);
  }
}

registerProcessor('tap', Tap);
