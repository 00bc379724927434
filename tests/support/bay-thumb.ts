import type { Page } from 'playwright-core';

/** Touches the bay card as a person does, and counts the touches. */
export class BayThumb {
  taps = 0;
  constructor(readonly page: Page) {}

  async tap(name: string | RegExp): Promise<void> {
    this.taps += 1;
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

  /** The hold is a minute long: the browser's clock is put forward over it. */
  async waitOutTheHold(): Promise<void> {
    await this.page.clock.fastForward(61_000);
    await this.sees('Vacuum left');
  }
}

export interface Touch {
  readonly on: string | RegExp;
  readonly do: (thumb: BayThumb) => Promise<void>;
}

/** A reading without trouble, screen by screen, from the cautions to the check. psi and miles. */
export const soundReading = (odometer: string): readonly Touch[] => [
  { on: 'Before you start', do: (thumb) => thumb.tap('All done') },
  { on: /^Look inside/, do: (thumb) => thumb.tap(/^Dry/) },
  { on: 'Fit the gauge', do: (thumb) => thumb.tap('All done') },
  {
    on: 'Idle vacuum',
    do: async (thumb) => {
      await thumb.key('131');
      await thumb.tap('Next');
    },
  },
  { on: /^Press the pedal/, do: (thumb) => thumb.tap(/START$/) },
  {
    on: /^Stop when/,
    do: async (thumb) => {
      await thumb.page.clock.fastForward(4_000);
      await thumb.tap(/STOP$/);
    },
  },
  {
    on: 'Lowest vacuum',
    do: async (thumb) => {
      await thumb.key('105');
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
      await thumb.key('129');
      await thumb.tap('Next');
    },
  },
  { on: 'Put it back', do: (thumb) => thumb.tap('All done') },
];
