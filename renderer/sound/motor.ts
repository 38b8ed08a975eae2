import type { Hertz } from '../../core/foundation/units.ts';

/**
 * The vibraphone's motor turns discs in the mouths of its tubes: what they radiate swells and fades,
 * 3 to 8 times a second, for all bars together.
 */
export interface Motor {
  readonly input: AudioNode;
  readonly output: AudioNode;
  /** Swells a second, 3 to 8; 0 stands still, tubes open. */
  turn(swells: Hertz): void;
}

/** How far closed tubes fall below open ones: half, 6 dB, for the bar itself still sounds (our choice). */
export const MOTOR_DEPTH = 0.5;
export const SLOWEST: Hertz = 3;
export const FASTEST: Hertz = 8;

/** A setting brought into the motor's range. @example swellsOf(20) // 8 */
export const swellsOf = (asked: Hertz): Hertz =>
  asked > 0 ? Math.min(FASTEST, Math.max(SLOWEST, asked)) : 0;

/** Time for the motor to start or stop, as a time constant; a jump would click. */
const SPIN_UP = 0.05;

/**
 * The whole sound of the instrument swells, not the lowest mode alone as with real tubes: the upper
 * modes are gone within a swell or two.
 */
export const createMotor = (context: BaseAudioContext, swells: Hertz): Motor => {
  const tubes = new GainNode(context, { gain: 1 });
  let disc: { readonly oscillator: OscillatorNode; readonly depth: GainNode } | undefined;
  const mount = (frequency: Hertz): NonNullable<typeof disc> => {
    const oscillator = new OscillatorNode(context, { frequency });
    const depth = new GainNode(context, { gain: 0 });
    oscillator.connect(depth).connect(tubes.gain);
    oscillator.start();
    return { oscillator, depth };
  };
  const set = (param: AudioParam, value: number, atOnce: boolean): void => {
    if (atOnce) param.setValueAtTime(value, 0);
    else param.setTargetAtTime(value, context.currentTime, SPIN_UP);
  };
  const turn = (asked: Hertz, atOnce = false): void => {
    const frequency = swellsOf(asked);
    const running = frequency > 0;
    if (!running && disc === undefined) return;
    disc ??= mount(frequency);
    if (running) set(disc.oscillator.frequency, frequency, atOnce);
    // Between 1 and 1 - MOTOR_DEPTH: never louder than without.
    set(disc.depth.gain, running ? MOTOR_DEPTH / 2 : 0, atOnce);
    set(tubes.gain, running ? 1 - MOTOR_DEPTH / 2 : 1, atOnce);
  };
  turn(swells, true);
  return {
    input: tubes,
    output: tubes,
    turn: asked => {
      turn(asked);
    },
  };
};
