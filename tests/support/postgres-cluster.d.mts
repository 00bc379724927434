export function postgresPrograms(): string | null;

export function startCluster(where?: {
  /** Folder to lie in; that of temporary files where none is given. */
  readonly within?: string;
  /** Settings in the form of postgresql.conf. */
  readonly settings?: readonly string[];
}): Promise<{
  readonly url: string;
  pid(): number;
  kill(): void;
  start(): Promise<void>;
  stop(): Promise<void>;
}>;
