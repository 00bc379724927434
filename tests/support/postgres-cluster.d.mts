export function postgresPrograms(): string | null;

export function startCluster(): Promise<{
  readonly url: string;
  pid(): number;
  kill(): void;
  start(): Promise<void>;
  stop(): Promise<void>;
}>;
