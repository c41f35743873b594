// eslint-disable-next-line @typescript-eslint/no-explicit-any
export function hushed(value: any): unknown {
  return value;
}
