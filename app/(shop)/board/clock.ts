/** Instants in words, in the shop's zone and customs. In the browser only for what is drawn there: browsers differ. */

export type Place = { readonly timeZone: string; readonly locale: string };

export type Clock = {
  readonly timeZone: string;
  /** @example "08:15" */
  readonly time: (ms: number) => string;
  /** @example "Tue 8 Dec" */
  readonly day: (ms: number) => string;
  /** @example { weekday: "Tue", date: "8" } */
  readonly dayName: (ms: number) => { readonly weekday: string; readonly date: string };
  /** @example "Tue 8 Dec 08:15" */
  readonly when: (ms: number) => string;
  /** minutes since midnight on the wall */
  readonly minute: (ms: number) => number;
};

/** Formatters are dear to make and cheap to use: one clock serves a whole board. */
export function clockOf({ timeZone, locale }: Place): Clock {
  const hours = new Intl.DateTimeFormat("en-GB", {
    timeZone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  const days = new Intl.DateTimeFormat(locale, {
    timeZone,
    weekday: "short",
    day: "numeric",
    month: "short",
  });
  const time = (ms: number): string => hours.format(ms);
  const day = (ms: number): string => days.format(ms).replaceAll(",", "");
  const part = (ms: number, type: Intl.DateTimeFormatPartTypes): string =>
    days.formatToParts(ms).find((one) => one.type === type)?.value ?? "";
  return {
    timeZone,
    time,
    day,
    dayName: (ms) => ({ weekday: part(ms, "weekday"), date: part(ms, "day") }),
    when: (ms) => `${day(ms)} ${time(ms)}`,
    minute: (ms) => {
      const [hour = 0, minute = 0] = time(ms).split(":").map(Number);
      return 60 * hour + minute;
    },
  };
}

/** @example lengthWords(5_400_000) // "1 h 30 min" */
export function lengthWords(ms: number): string {
  const minutes = Math.max(0, Math.round(ms / 60_000));
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.floor(hours / 24)} d ${hours % 24} h`;
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}
