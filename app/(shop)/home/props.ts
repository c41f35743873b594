import type { shopSettings } from "@/lib/server";
import type { Home } from "@/lib/services";

/** What each part of the first screen is given. */
export type HomeProps = {
  readonly home: Home;
  readonly shop: Awaited<ReturnType<typeof shopSettings>>;
  readonly now: Date;
};
