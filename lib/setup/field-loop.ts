/** Keeps the fields of plans worked out, beside the worker's other tasks. */
import { onShopChange, type ShopChange } from "@/lib/data";
import { askForChangedFields, solveNextField, type SolveOptions } from "@/lib/services";

/** Tables whose change may change a scene; what waits is announced by its own table. */
const SCENE_TABLES = ["tank", "anode", "part", "part_mesh"];
const QUEUE_TABLE = "plan_field";

/** Changes that come together are looked at together, ms. */
const GATHER_MS = 1000;

export type FieldLoop = {
  /** Looks for changed scenes and works out what waits; returns at once. */
  readonly wake: () => void;
  /** Ends what is being worked out, which goes back into the queue. */
  readonly stop: () => Promise<void>;
};

/**
 * Starts working out what waits, and goes on as changes are announced. A fault of the database is told and tried again
 * at the next announcement or wake: it never ends the worker.
 *
 * @param solve works one out; in a thread of its own when left out
 */
export function startFieldLoop(
  tell: (message: string) => void,
  solve?: SolveOptions["solve"],
): FieldLoop {
  const ending = new AbortController();
  let [scenesMayDiffer, wanted] = [true, false];
  let working: Promise<void> | null = null;
  let gathering: NodeJS.Timeout | undefined;

  const options = { signal: ending.signal, ...(solve && { solve }) };
  const work = async (): Promise<void> => {
    do {
      wanted = false;
      if (scenesMayDiffer) {
        scenesMayDiffer = false;
        await askForChangedFields(new Date());
      }
      if (await solveNextField(options)) wanted = true;
    } while (wanted && !ending.signal.aborted);
  };
  const begin = (): void => {
    gathering = undefined;
    wanted = true;
    if (working || ending.signal.aborted) return;
    working = work()
      .catch((error: unknown) => {
        scenesMayDiffer = true;
        tell(`fields of plans: ${String(error)}`);
      })
      .finally(() => {
        working = null;
      });
  };
  const stopListening = onShopChange((change) => {
    if (isScene(change)) scenesMayDiffer = true;
    else if (change.kind === "change" && change.table !== QUEUE_TABLE) return;
    gathering ??= setTimeout(begin, GATHER_MS);
  });
  return {
    wake: () => {
      scenesMayDiffer = true;
      begin();
    },
    stop: async () => {
      stopListening();
      clearTimeout(gathering);
      ending.abort();
      await working;
    },
  };
}

const isScene = (change: ShopChange): boolean =>
  change.kind === "resync" || SCENE_TABLES.includes(change.table);
