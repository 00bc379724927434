import { pressure, pressureDifference } from '@/app/_ui/format';
import { MarkGlyph } from '@/app/_ui/mark';
import { Panel } from '@/app/_ui/panel';
import { reasonText, type UnitsOfMeasure } from '@/lib/analysis/rules';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import styles from './unit-sheet.module.css';

interface WhyPanelProps {
  readonly assessment: UnitAssessment;
  readonly units: UnitsOfMeasure;
}

/** Every rule that is true, worst first, and the figures behind them. */
export function WhyPanel({ assessment, units }: WhyPanelProps) {
  const { reasons, whatChangesItBack, idle, baseline, limitsVersion, methodVersion } = assessment;
  return (
    <Panel title="Why the mark">
      <ol className={styles.reasons}>
        {reasons.map((reason) => (
          <li key={`${reason.rule} ${reason.about ?? ''}`}>
            <MarkGlyph mark={reason.mark} size={14} />
            <span>
              {reasonText(reason, units)}{' '}
              <span className="mute small">
                Rule “{reason.rule}”, gives {reason.mark}
                {reason.asRead === undefined
                  ? ''
                  : reason.asRead
                    ? ', by the vacuum as read'
                    : ', by the sea-level equivalent'}
                .
              </span>
            </span>
          </li>
        ))}
      </ol>
      {idle.slopePerYear !== null && (
        <p>
          Slope of idle vacuum {pressureDifference(idle.slopePerYear, units.pressure)} a year
          {idle.slopeLower !== null &&
            idle.slopeUpper !== null &&
            `, 9 in 10 between ${pressureDifference(idle.slopeLower, units.pressure)} and ${pressureDifference(idle.slopeUpper, units.pressure)}`}
          . Own baseline {pressure(baseline.idleSle, units.pressure)}.
        </p>
      )}
      <p className="mute">What changes it back: {whatChangesItBack}</p>
      <p className="mute small">
        Limits version {limitsVersion}, method {methodVersion}.
      </p>
    </Panel>
  );
}
