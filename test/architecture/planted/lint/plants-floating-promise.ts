export function forget(): void {
  Promise.resolve();
}
