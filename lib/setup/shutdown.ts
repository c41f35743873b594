/** Stops what was started, last started first, whatever moment the end comes at. */
export class Shutdown {
  private readonly steps: (() => Promise<void>)[] = [];
  private running: Promise<void> | undefined;

  /** True once the end has begun. */
  get begun(): boolean {
    return this.running !== undefined;
  }

  /** Adds what undoes the step just taken. Where the end has begun meanwhile, it is undone at once. */
  async add(undo: () => Promise<void>): Promise<void> {
    if (this.running) {
      await undo();
      return;
    }
    this.steps.push(undo);
  }

  /** Undoes everything; a second call waits for the first. One that fails does not keep the others from ending. */
  async run(): Promise<void> {
    this.running ??= this.undoAll();
    return this.running;
  }

  private async undoAll(): Promise<void> {
    for (let undo = this.steps.pop(); undo; undo = this.steps.pop()) {
      try {
        await undo();
      } catch (error) {
        console.error(error instanceof Error ? error.message : error);
      }
    }
  }
}
