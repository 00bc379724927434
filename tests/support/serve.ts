import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { catchMail } from './mail-catcher';
import { serveProduct } from './serve-product';

declare module 'vitest' {
  interface ProvidedContext {
    origin: string;
    /** File to which the mail that the product sends is added. */
    mailFile: string;
    /** File to which the log of the product is added. */
    logFile: string;
    metricsToken: string;
  }
}

/** Serves the built product on a demo fleet in the embedded database for the browser journeys. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-journeys-'));
  const mailFile = join(folder, 'mail');
  const mail = await catchMail(mailFile);
  const logFile = join(folder, 'log');
  const metricsToken = randomBytes(24).toString('hex');
  const place = {
    IDLEMARK_DATA: join(folder, 'database'),
    IDLEMARK_SMTP: mail.url,
    IDLEMARK_MAIL_FROM: 'idlemark@tarn.example',
    IDLEMARK_METRICS_TOKEN: metricsToken,
  };
  const served = await serveProduct(place, { logFile });
  project.provide('origin', served.origin);
  project.provide('mailFile', mailFile);
  project.provide('logFile', logFile);
  project.provide('metricsToken', metricsToken);
  return async () => {
    await served.stop();
    await mail.close();
    rmSync(folder, { recursive: true, force: true });
  };
}
