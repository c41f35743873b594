export function anything(value: any): unknown {
  return value;
}
