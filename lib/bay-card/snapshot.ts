import type { Role } from '@/lib/access';
import type { AssessUnitInput } from '@/lib/analysis/assess-unit';
import type { Mark } from '@/lib/analysis/assessment';
import type { DayNumber, DistanceUnit, Kilopascals, Metres, PressureUnit } from '@/lib/measure';

type SharedInput = 'limits' | 'prior' | 'fleetBeltRate' | 'asOf';

/** A repair that waits for its proof reading. */
export interface ProofWanted {
  readonly why: string;
  /** May not read the proof. */
  readonly certifiedBy: string | null;
}

export interface BayUnit {
  readonly id: string;
  readonly shedId: string;
  /** `SUV, Marrow Pike 2021`, as far as the record knows. */
  readonly described: string;
  readonly mark: Mark | null;
  readonly expectedIdleSle: Kilopascals | null;
  readonly lastReadOn: DayNumber | null;
  readonly dueOn: DayNumber | null;
  /** Why it is in the bay today; null when it is not. */
  readonly inBay: string | null;
  readonly proof: ProofWanted | null;
  readonly input: Omit<AssessUnitInput, SharedInput>;
}

export interface BayShed {
  readonly id: string;
  readonly name: string;
  readonly elevation: Metres;
  readonly timeZone: string;
}

export interface BayGauge {
  readonly id: string;
  readonly shedId: string;
  readonly label: string;
  readonly pressureUnit: PressureUnit;
}

export interface BayPerson {
  readonly id: string;
  readonly name: string;
  readonly badge: string;
  readonly role: Role;
  readonly pressureUnit: PressureUnit;
  readonly distanceUnit: DistanceUnit;
}

/** All that a device needs to judge the units of a person's sheds without signal. */
export interface BaySnapshot extends Pick<AssessUnitInput, 'limits' | 'prior' | 'fleetBeltRate'> {
  readonly version: 1;
  /** When the desk was heard, by the server's clock, ISO 8601. */
  readonly heardAt: string;
  readonly person: BayPerson;
  readonly sheds: readonly BayShed[];
  readonly gauges: readonly BayGauge[];
  readonly units: readonly BayUnit[];
}
