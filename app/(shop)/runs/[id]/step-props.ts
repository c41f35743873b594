import type { shopSettings } from "@/lib/server";
import type { RunView } from "@/lib/services";

/** What every step of a run's screen is given. */
export type StepProps = {
  readonly view: RunView;
  readonly shop: Awaited<ReturnType<typeof shopSettings>>;
  readonly now: Date;
};
