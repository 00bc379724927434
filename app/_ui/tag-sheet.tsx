import { QrCode } from '@/app/_ui/qr-code';
import { tagAddress } from '@/lib/bay-card/unit-of-tag';
import styles from './tag-sheet.module.css';

interface TagSheetProps {
  /** Where the product is served. */
  readonly origin: string;
  readonly tags: readonly {
    readonly unit: string;
    readonly shed: string;
    readonly note?: string;
  }[];
}

/** Tags to cut apart: a unit's number, and the way to its bay card. */
export function TagSheet({ origin, tags }: TagSheetProps) {
  return (
    <ul className={styles.tags}>
      {tags.map(({ unit, shed, note }) => (
        <li key={unit} className="keep-together">
          <QrCode text={tagAddress(origin, unit)} label={`Bay card of unit ${unit}`} />
          <p className={styles.unit}>{unit}</p>
          <p>{shed}</p>
          {note && <p>{note}</p>}
        </li>
      ))}
    </ul>
  );
}
