import { Element, Metrics, MetricsDefaults, SVGContext } from 'vexflow/bravura';

/**
 * VexFlow's SVG context, with saving and restoring by plain copies (its own deep copies took a
 * seventh of the time of drawing) and without click boxes: its own are as tall as the font.
 */
export class PageContext extends SVGContext {
  override save(): this {
    this.stateStack.push({ state: { ...this.state }, attributes: { ...this.attributes } });
    return this;
  }

  override restore(): this {
    const saved = this.stateStack.pop();
    if (saved !== undefined) {
      this.state = saved.state;
      this.attributes = saved.attributes;
    }
    return this;
  }

  override pointerRect(): this {
    return this;
  }
}

/** Measures each text once by font; a score is made of few signs. */
const measuredOnce = (context: CanvasRenderingContext2D): CanvasRenderingContext2D => {
  const known = new Map<string, TextMetrics>();
  let font = context.font;
  let set = font;
  return new Proxy(context, {
    get: (_, name) => {
      if (name === 'font') return font;
      if (name !== 'measureText') return Reflect.get(context, name) as unknown;
      return (content: string): TextMetrics => {
        const key = `${font} ${content}`;
        const old = known.get(key);
        if (old !== undefined) return old;
        if (set !== font) {
          context.font = font;
          set = font;
        }
        const metrics = context.measureText(content);
        known.set(key, metrics);
        return metrics;
      };
    },
    set: (_, name, value) => {
      if (name === 'font') font = String(value);
      else Reflect.set(context, name, value);
      return true;
    },
  });
};

/** A table of flat records, asked for every sign: looked up once by key, handed out as plain copies. */
const lookedUpOnce = <T extends object>(look: (key: string) => T): ((key: string) => T) => {
  const known = new Map<string, T>();
  return key => {
    let found = known.get(key);
    if (found === undefined) {
      found = look(key);
      known.set(key, found);
    }
    return { ...found };
  };
};

let ready = false;

/** Sets VexFlow up, and makes it measure through a memory; only once the notation font is there, or it would remember boxes. */
export const prepareVexFlow = (): void => {
  if (ready) return;
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d');
  if (context === null) return;
  const once = measuredOnce(context);
  canvas.getContext = (() => once) as unknown as typeof canvas.getContext;
  Element.setTextMeasurementCanvas(canvas);
  // A fifth of a stave space between a sign and its head; VexFlow's tenth lets them touch in print.
  (MetricsDefaults['Accidental'] as Record<string, unknown>)['noteheadAccidentalPadding'] = 2.2;
  Metrics.getFontInfo = lookedUpOnce(Metrics.getFontInfo.bind(Metrics));
  Metrics.getStyle = lookedUpOnce(Metrics.getStyle.bind(Metrics));
  ready = true;
};
