import { laterPart } from './use-later-part';

// Parts that the bay list does without: it is on the screen before they are loaded.

export const readingSteps = laterPart(async () => (await import('./reading-steps')).ReadingSteps);
export const callScreen = laterPart(async () => (await import('./call-screen')).CallScreen);
export const traceStep = laterPart(async () => (await import('./trace/trace-step')).TraceStep);

export const judge = async () => (await import('@/lib/bay-card/judge-on-device')).judgeOnDevice;

export const loadLaterParts = () =>
  Promise.all([readingSteps.load(), callScreen.load(), traceStep.load(), judge()]);
