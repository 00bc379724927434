/** Writes that a session may make at once, and how many more a second after that. */
export const burst = 600;
const perSecond = 10;
/** Sessions remembered: an idle one is full again after a minute, so the oldest may be forgotten. */
const mostSessions = 10_000;

interface Bucket {
  left: number;
  at: number;
}

/**
 * Token buckets of one process. A whole outbox of 200 readings passes at once; a device that goes on
 * and on is asked to wait, and nothing of it is dropped.
 */
export class WriteRate {
  private readonly buckets = new Map<string, Bucket>();

  /** Takes one write at `now`, ms; gives 0 when it may go on, else the seconds to wait. */
  take(key: string, now: number): number {
    const bucket = this.buckets.get(key) ?? { left: burst, at: now };
    bucket.left = Math.min(burst, bucket.left + (perSecond * (now - bucket.at)) / 1000);
    bucket.at = now;
    this.buckets.delete(key);
    this.buckets.set(key, bucket);
    if (this.buckets.size > mostSessions) {
      const [oldest = key] = this.buckets.keys();
      this.buckets.delete(oldest);
    }
    if (bucket.left < 1) return Math.ceil((1 - bucket.left) / perSecond);
    bucket.left -= 1;
    return 0;
  }
}
