/** Minutes after midnight as an input of type time has them. @example clockText(490) // "08:10" */
export function clockText(minute: number): string {
  const two = (value: number): string => String(value).padStart(2, "0");
  return minute === 1440 ? "23:59" : `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}
