import type { ComponentChildren } from 'preact';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { handWords } from '../../../core/playable/words.ts';
import { xOfPlace } from '../../page/drawScore.ts';
import { useApp } from '../../desk/appContext.ts';
import { OverSystems } from '../parts/overSystems.tsx';
import type { PlacedSystem } from '../parts/scorePage.tsx';

/** Room the row takes under a stave, in pixels, and where its text stands in it. */
const ROW = 24;
const BASELINE = 17;

/** Height the page must leave under each stave where hands are shown. */
export const stickingHeight = (shown: readonly string[]): number => (shown.length === 0 ? 0 : ROW);

/** L and R under the notes of the parts they are asked for; the panel says the same in words. */
export const StickingRow = (props: { systems: readonly PlacedSystem[] }): ComponentChildren => {
  const { desk } = useApp();
  const shown = desk.stickingShown.value;
  const parts = (desk.playable.value?.parts ?? []).filter(p => shown.includes(p.part.id));
  if (parts.length === 0) return null;
  return (
    <OverSystems systems={props.systems}>
      {system =>
        parts.flatMap(({ part, strokes, sticking }) => {
          const stave = system.staves.find(s => s.part === part.id);
          if (stave === undefined) return [];
          return strokes.flatMap((stroke, i) => {
            const at = toNumber(stroke.onset);
            if (at < system.from - 1e-9 || at >= system.to - 1e-9) return [];
            return [
              <text
                key={`${part.id} ${String(i)}`}
                class="hand"
                x={xOfPlace(system, at)}
                y={stave.inkBottom + BASELINE}
              >
                {handWords([sticking[i] ?? 'R'])}
              </text>,
            ];
          });
        })
      }
    </OverSystems>
  );
};
