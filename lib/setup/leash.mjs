/**
 * A child process of the start ends in two ways: asked to by a signal, or because its parent is gone. The second makes
 * sure that a killed start leaves no server behind that holds the port.
 *
 * @param {() => Promise<void>} stop ends the work in hand
 */
export function onLeash(stop) {
  let ending = false;
  const end = () => {
    if (ending) return;
    ending = true;
    stop().then(
      () => process.exit(0),
      (error) => {
        console.error(error);
        process.exit(1);
      },
    );
  };
  process.on("SIGTERM", end);
  process.on("disconnect", end);
}
