import type { Page } from 'playwright-core';

/** Touches the bay card as a person does, and counts the touches. */
export class BayThumb {
  taps = 0;
  /** With seconds a tap, it works at a person's pace and waits as long as the bay does. */
  constructor(
    readonly page: Page,
    readonly secondsATap = 0,
  ) {}

  async tap(name: string | RegExp): Promise<void> {
    this.taps += 1;
    await this.page.waitForTimeout(this.secondsATap * 1000);
    await this.page
      .getByRole('button', { name, exact: typeof name === 'string' })
      .first()
      .click();
  }

  async key(digits: string): Promise<void> {
    for (const digit of digits) await this.tap(digit);
  }

  async sees(title: string | RegExp): Promise<void> {
    await this.page.getByRole('heading', { name: title }).waitFor({ timeout: 30_000 });
  }

  async waitOutTheRecovery(): Promise<void> {
    if (this.secondsATap === 0) await this.page.clock.fastForward(4_000);
    else await this.page.waitForTimeout(4_000);
  }

  /** The hold is a minute long: the browser's clock is put forward over it. */
  async waitOutTheHold(): Promise<void> {
    if (this.secondsATap === 0) await this.page.clock.fastForward(61_000);
    await this.page.getByRole('heading', { name: 'Vacuum left' }).waitFor({ timeout: 65_000 });
  }
}

export interface Touch {
  readonly on: string | RegExp;
  readonly do: (thumb: BayThumb) => Promise<void>;
}

/** Digits of the gauge's needle, as the pad takes them. */
export interface Needle {
  readonly idle: string;
  readonly lowest: string;
  readonly left: string;
}
const soundNeedle: Needle = { idle: '131', lowest: '105', left: '129' };

/** A reading without trouble, screen by screen, from the cautions to the check. psi, unless told otherwise. */
export const soundReading = (
  odometer: string,
  { idle, lowest, left }: Needle = soundNeedle,
): readonly Touch[] => [
  { on: 'Before you start', do: (thumb) => thumb.tap('All done') },
  { on: /^Look inside/, do: (thumb) => thumb.tap(/^Dry/) },
  { on: 'Fit the gauge', do: (thumb) => thumb.tap('All done') },
  {
    on: 'Idle vacuum',
    do: async (thumb) => {
      await thumb.key(idle);
      await thumb.tap('Next');
    },
  },
  { on: /^Press the pedal/, do: (thumb) => thumb.tap(/START$/) },
  {
    on: /^Stop when/,
    do: async (thumb) => {
      await thumb.waitOutTheRecovery();
      await thumb.tap(/STOP$/);
    },
  },
  {
    on: 'Lowest vacuum',
    do: async (thumb) => {
      await thumb.key(lowest);
      await thumb.tap('Next');
    },
  },
  { on: 'How was the pedal?', do: (thumb) => thumb.tap(/^Normal/) },
  { on: /^Switch the engine off/, do: (thumb) => thumb.tap(/START$/) },
  {
    on: 'Odometer',
    do: async (thumb) => {
      await thumb.key(odometer);
      await thumb.tap('Next');
    },
  },
  { on: /^Leave it/, do: (thumb) => thumb.waitOutTheHold() },
  {
    on: 'Vacuum left',
    do: async (thumb) => {
      await thumb.key(left);
      await thumb.tap('Next');
    },
  },
  { on: 'Put it back', do: (thumb) => thumb.tap('All done') },
];
