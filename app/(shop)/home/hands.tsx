import { formatTime, formatWhen } from "@/lib/server";
import { pullWords } from "../tanks/tank-card";
import { inSentence, loadWords } from "../words";
import { type Line, Lines } from "./lines";
import type { HomeProps } from "./props";

/** What needs hands at the tanks, in the order in which it does. */
export function Hands(props: HomeProps) {
  const lines = [...bakes(props), ...finishing(props), ...running(props), ...loading(props)];
  return (
    <Lines
      title="At the tanks"
      id="hands"
      lines={lines}
      empty="Nothing runs, and nothing is booked to go in today."
    />
  );
}

function bakes({ home, shop }: HomeProps): Line[] {
  return home.bakes.map(({ id, part, startedAt, mustStartBy, hours }) => ({
    key: id,
    href: `/parts/${part.id}`,
    tone: startedAt ? "bath" : "oxide",
    title: startedAt
      ? `${part.description} is in the oven`
      : `Relief bake: put the ${inSentence(part.description)} in the oven by ${mustStartBy ? formatTime(mustStartBy, shop) : "now"}`,
    detail: `${hours} h${startedAt ? `, since ${formatWhen(startedAt, shop)}` : ""}`,
  }));
}

function finishing({ home }: HomeProps): Line[] {
  return home.toFinish.map((run) => ({
    key: run.id,
    href: `/runs/${run.id}`,
    tone: "oxide",
    title: `Finish ${loadWords(run)}`,
    detail: `Out of ${run.tank.name}: rinse, brush, dry, protect at once.`,
  }));
}

function running({ home, shop, now }: HomeProps): Line[] {
  return home.running.map(({ run, progress, view }) => ({
    key: run.id,
    href: `/runs/${run.id}`,
    tone: progress.due ? "brass" : "bath",
    title: pullWords({ run, progress }, now, shop),
    detail: `${view.tank.name}. ${
      progress.nextLookAt <= now
        ? "Read its meter now."
        : `Next look at ${formatTime(progress.nextLookAt, shop)}.`
    }`,
  }));
}

function loading({ home, shop, now }: HomeProps): Line[] {
  return home.toLoad.map((run) => ({
    key: run.id,
    href: `/runs/${run.id}`,
    tone: run.startsAt < now ? "brass" : "ink",
    title: `Load ${loadWords(run)} at ${formatTime(run.startsAt, shop)}`,
    detail: `${run.tank.name}${run.startsAt < now ? `: it should be in since ${formatWhen(run.startsAt, shop)}` : ""}`,
  }));
}
