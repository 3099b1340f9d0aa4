import type { Feeder } from '../../../../shared/protocol/feeder.ts';
import type { PlannedCircuit } from '../../../../shared/protocol/planning.ts';
import type { Plate } from '../../../../shared/protocol/plate.ts';
import type { Process } from '../../../../shared/protocol/processes.ts';
import { wireUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';

export interface MachineLine {
  plate: Plate;
  chosen: boolean;
  owned: boolean;
  /** As it is typed. */
  price: string;
  processes: Process[];
}

export interface NeedLine {
  name: string;
  process: Process;
  minAmps: string;
  /** As it is typed, and the unit that it was typed in. */
  wire: string;
  wireUnit: 'mm' | 'inches';
  pulse: boolean;
}

type ListName = 'machines' | 'circuits' | 'needs';

/** What the page holds; a list that was pasted goes before the one that was ticked. */
export interface Chosen {
  machines: MachineLine[];
  circuits: { circuit: PlannedCircuit; chosen: boolean }[];
  needs: NeedLine[];
  /** As the shop keeps them; those of which a circuit is not chosen are left out. */
  feeders: Feeder[];
  pasted: Record<ListName, string>;
}

export const processes: readonly Process[] = ['mig-steel', 'mig-aluminium', 'mig-braze'];

/** The lists as the server takes them; it says by path what is wrong in them. */
export function listsOf(wish: Chosen): Record<ListName | 'feeders', unknown> {
  return {
    machines: pastedOr(wish, 'machines', () =>
      wish.machines
        .filter(({ chosen }) => chosen)
        .map(({ plate, owned, price, processes }) => ({
          ...plate,
          processes,
          ...(owned ? { owned } : {}),
          ...typed('price', price),
        })),
    ),
    circuits: pastedOr(wish, 'circuits', () =>
      wish.circuits.filter(({ chosen }) => chosen).map(({ circuit }) => circuit),
    ),
    feeders: feedersOf(wish),
    needs: pastedOr(wish, 'needs', () =>
      wish.needs.map(({ name, process, minAmps, wire, wireUnit: unit, pulse }) => ({
        name,
        process,
        ...(pulse ? { pulse } : {}),
        ...typed('minAmps', minAmps),
        ...typed('wireInches', wire, unit === 'mm' ? 1 / 25.4 : 1),
      })),
    ),
  };
}

/** With those of their circuits that the plan is of; a pasted list of circuits knows no feeder. */
function feedersOf({ feeders, circuits, pasted }: Chosen): Feeder[] {
  if (pasted.circuits.trim() !== '') return [];
  const chosen = new Set(circuits.flatMap((each) => (each.chosen ? [each.circuit.name] : [])));
  return feeders.flatMap((feeder) => {
    const own = feeder.circuits.filter((name) => chosen.has(name));
    return own.length > 0 ? [{ ...feeder, circuits: own }] : [];
  });
}

/** What is left empty is left out; what is no number goes as it is, for the server to name. */
function typed(key: string, text: string, scale = 1): Record<string, unknown> {
  const trimmed = text.trim().replace(',', '.');
  if (trimmed === '') return {};
  return { [key]: Number.isNaN(Number(trimmed)) ? trimmed : scale * Number(trimmed) };
}

/** The first line of needs, or one more. */
export const newNeed = (name: string, minAmps = ''): NeedLine => ({
  ...{ name, process: 'mig-steel', minAmps, pulse: false },
  ...{ wire: '', wireUnit: wireUnit() },
});

function pastedOr(wish: Chosen, list: ListName, ticked: () => unknown): unknown {
  const text = wish.pasted[list].trim();
  if (text === '') return ticked();
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new Error(words.plan.noJson(words.plan.lists[list], (error as Error).message));
  }
}
