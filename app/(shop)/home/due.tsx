import { formatDay } from "@/lib/server";
import { PART_STATE } from "../words";
import { Lines } from "./lines";
import type { HomeProps } from "./props";

/** Jobs that customers were promised soon. */
export function DueJobs({ home, shop }: HomeProps) {
  return (
    <Lines
      title="Promised"
      id="due"
      empty="No job is promised for the next seven days."
      lines={home.jobs.map((job) => {
        const ready = job.parts.every(({ state }) => DONE.includes(state));
        const late = job.promisedFor < home.today;
        return {
          key: job.id,
          href: `/jobs/${job.id}`,
          tone: ready ? "bath" : late ? "oxide" : "ink",
          title: `Job ${job.number} for ${job.customerName}: ${formatDay(job.promisedFor, shop)}${late ? ", past" : ""}`,
          detail: ready
            ? "All parts are finished: hand it back."
            : job.parts
                .map(({ mark, state }) => `${mark} ${PART_STATE[state]?.word ?? ""}`)
                .join(", "),
        };
      })}
    />
  );
}

const DONE: readonly string[] = ["FINISHED", "HANDED_BACK", "REFUSED"];

/** Parts with a plan that nobody has booked a tank for. */
export function WaitingParts({ home, shop, books }: HomeProps & { readonly books: boolean }) {
  return (
    <Lines
      title="Waiting for a tank"
      id="waiting"
      empty="Every planned part has its tank."
      lines={home.waiting.map((part) => ({
        key: part.id,
        href: books ? `/parts/${part.id}/book` : `/parts/${part.id}`,
        tone: "ink",
        title: `${part.job.number}-${part.mark} ${part.description}`,
        detail: part.job.promisedFor
          ? `Promised for ${formatDay(part.job.promisedFor, shop)}.`
          : "No day was promised.",
      }))}
    />
  );
}
