import type { AssessUnitInput, UnitAssessment } from '@/lib/analysis/unit-assessment';

export type { AssessUnitInput, BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';

export declare function assessUnit(input: AssessUnitInput): UnitAssessment;
