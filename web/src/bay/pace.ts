/** How long pictures take, and what is left out of those that must come fast. */

/** How a picture is painted: pixels of the screen for one of the page, and whether all is drawn. */
export interface Haste {
  ratio: number;
  fine: boolean;
}

/** From all of it to the least, each for a machine to which the one before is too much. */
const STEPS: readonly Haste[] = [
  { ratio: 1, fine: true },
  { ratio: 1, fine: false },
  { ratio: 0.75, fine: false },
  { ratio: 0.5, fine: false },
];
/** Above this a picture comes too slowly for a hand that turns it [ms]. */
const SLOW = 60;
/** Within this the fine picture comes after the last movement, if it can [ms]. */
const WITHIN = 300;
/** So long a hand must hold still at least before it is drawn [ms]. */
const REST = 120;
/** Fine pictures that take longer are drawn one pixel for one, until those are light [ms]. */
const HEAVY = 200;
const LIGHT = 40;

export class Pace {
  private step = 0;
  private fine = 0;
  private coarse = 0;
  /** Fine pictures one after the other that were heavy; the first one of all makes everything ready, and does not count. */
  private heavy = -1;
  private asked = 0;

  constructor(private readonly context: WebGL2RenderingContext) {}

  haste(): Haste {
    return STEPS[this.step] ?? { ratio: 1, fine: true };
  }

  /** Whether this machine paints by the processor, or as slowly. */
  slow(): boolean {
    return this.heavy >= 2;
  }

  /** How long to wait after a coarse picture: less where the fine one takes long, more where coarse ones come slowly. */
  rest(): number {
    return Math.max(REST, Math.min(2.5 * this.coarse, WITHIN - this.fine));
  }

  /** A picture has been handed to the graphics: how long those take for it is seen from when they are done. */
  drawn(coarse: boolean): void {
    const { context } = this;
    const done = this.asked === 0 ? context.fenceSync(context.SYNC_GPU_COMMANDS_COMPLETE, 0) : null;
    if (!done) {
      return;
    }
    context.flush();
    const began = performance.now();
    const look = () => {
      if (context.getSyncParameter(done, context.SYNC_STATUS) === context.UNSIGNALED && performance.now() - began < 5000) {
        this.asked = requestAnimationFrame(look);
        return;
      }
      this.asked = 0;
      context.deleteSync(done);
      this.took(performance.now() - began, coarse);
    };
    this.asked = requestAnimationFrame(look);
  }

  took(long: number, coarse: boolean): void {
    if (!coarse) {
      this.fine = long;
      this.heavy = this.heavy < 0 ? 0 : long > (this.slow() ? LIGHT : HEAVY) ? Math.min(this.heavy + 1, 2) : 0;
      // The next turn begins one step better; within one nothing comes back and goes again.
      this.step = Math.max(this.step - 1, 0);
      return;
    }
    this.coarse = long;
    if (long > SLOW) {
      this.step = Math.min(this.step + 1, STEPS.length - 1);
    }
  }

  /** What was asked is not waited for any more. */
  forget(): void {
    cancelAnimationFrame(this.asked);
    this.asked = 0;
  }
}
