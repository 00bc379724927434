import type { ComponentProps, ReactNode } from 'react';
import styles from './field.module.css';

interface FieldWords {
  /** Also the target of the error summary's link. */
  readonly id: string;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  readonly error?: string;
}

const describedBy = ({ id, hint, error }: FieldWords): string | undefined =>
  [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ') || undefined;

function FieldFrame({ id, label, hint, error, children }: FieldWords & { children: ReactNode }) {
  return (
    <div className={error ? `${styles.field} ${styles.wrong}` : styles.field}>
      <label htmlFor={id} className={styles.label}>
        {label}
      </label>
      {hint && (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      )}
      {error && (
        <p id={`${id}-error`} className={styles.error}>
          <span className="visually-hidden">Error: </span>
          {error}
        </p>
      )}
      {children}
    </div>
  );
}

type Control<Tag extends 'input' | 'select' | 'textarea'> = FieldWords &
  Omit<ComponentProps<Tag>, keyof FieldWords | 'type'>;

interface FieldProps extends Control<'input'> {
  /** Numbers are text with an inputMode, so that a wheel or an odd locale cannot change them. */
  readonly type?: 'text' | 'password' | 'email' | 'search' | 'date' | 'file';
  /** Unit of measure shown after the input. */
  readonly suffix?: string;
}

export function Field({ label, hint, error, suffix, type = 'text', ...input }: FieldProps) {
  const words = { id: input.id, label, hint, error };
  return (
    <FieldFrame {...words}>
      <span className={styles.line}>
        <input
          type={type}
          autoComplete="off"
          className={styles.input}
          aria-describedby={describedBy(words)}
          aria-invalid={error ? true : undefined}
          {...input}
        />
        {suffix && <span>{suffix}</span>}
      </span>
    </FieldFrame>
  );
}

export function SelectField({ label, hint, error, children, ...select }: Control<'select'>) {
  const words = { id: select.id, label, hint, error };
  return (
    <FieldFrame {...words}>
      <select
        className={styles.input}
        aria-describedby={describedBy(words)}
        aria-invalid={error ? true : undefined}
        {...select}
      >
        {children}
      </select>
    </FieldFrame>
  );
}

export function TextAreaField({ label, hint, error, rows = 3, ...area }: Control<'textarea'>) {
  const words = { id: area.id, label, hint, error };
  return (
    <FieldFrame {...words}>
      <textarea
        rows={rows}
        className={styles.input}
        aria-describedby={describedBy(words)}
        aria-invalid={error ? true : undefined}
        {...area}
      />
    </FieldFrame>
  );
}

interface ChoiceFieldProps extends Control<'input'> {
  readonly type?: 'checkbox' | 'radio';
}

export function ChoiceField({ label, hint, error, type = 'checkbox', ...input }: ChoiceFieldProps) {
  const words = { id: input.id, label, hint, error };
  return (
    <div className={error ? `${styles.choice} ${styles.wrong}` : styles.choice}>
      <input
        type={type}
        aria-describedby={describedBy(words)}
        aria-invalid={error ? true : undefined}
        {...input}
      />
      <div>
        <label htmlFor={input.id}>{label}</label>
        {hint && (
          <p id={`${input.id}-hint`} className={styles.hint}>
            {hint}
          </p>
        )}
        {error && (
          <p id={`${input.id}-error`} className={styles.error}>
            {error}
          </p>
        )}
      </div>
    </div>
  );
}
