export const importKinds = ['units', 'readings', 'fitments', 'work orders'] as const;
export type ImportKind = (typeof importKinds)[number];

/** What a column can hold, and how people may have named it. */
export interface ImportField {
  readonly name: string;
  readonly label: string;
  readonly isRequired?: true;
  /** Such a column needs its unit of measure said. */
  readonly measure?: 'pressure' | 'distance';
  readonly otherNames?: readonly string[];
}

const unitField: ImportField = {
  name: 'unit',
  label: 'Unit',
  isRequired: true,
  otherNames: ['unit_id', 'unit_number', 'unit_no', 'vehicle', 'vehicle_id'],
};

/** The columns of each kind of file, in the order in which a person is asked for them. */
export const importFields: Readonly<Record<ImportKind, readonly ImportField[]>> = {
  units: [
    unitField,
    { name: 'shed', label: 'Shed, by name', isRequired: true, otherNames: ['depot', 'yard'] },
    {
      name: 'tracked_from',
      label: 'Tracked from, date',
      isRequired: true,
      otherNames: ['in_service_on', 'in_service'],
    },
    { name: 'body', label: 'Body: pickup, SUV, van or other', isRequired: true },
    { name: 'odometer_unit', label: 'Odometer shows mi or km', isRequired: true },
    { name: 'vin', label: 'VIN' },
    { name: 'check_digit_required', label: 'Check digit of the VIN required: yes or no' },
    { name: 'make', label: 'Make' },
    { name: 'model', label: 'Model' },
    { name: 'model_year', label: 'Model year', otherNames: ['year'] },
    { name: 'engine', label: 'Engine' },
    { name: 'built_on', label: 'Built: year, year-month or date', otherNames: ['build_date'] },
    { name: 'tire_size', label: 'Tire size', otherNames: ['tires', 'tyre_size'] },
  ],
  readings: [
    unitField,
    { name: 'reading', label: 'Number of the reading', otherNames: ['reading_id', 'id'] },
    { name: 'read_on', label: 'Read on, date', otherNames: ['date'] },
    { name: 'read_at', label: 'Read at, date and time', otherNames: ['time', 'timestamp'] },
    { name: 'idle_vacuum', label: 'Idle vacuum', measure: 'pressure', otherNames: ['idle'] },
    { name: 'raised_vacuum', label: 'Raised vacuum', measure: 'pressure', otherNames: ['raised'] },
    { name: 'lowest', label: 'Lowest over four presses', measure: 'pressure' },
    { name: 'recovery_s', label: 'Recovery, seconds', otherNames: ['recovery'] },
    { name: 'hold_loss', label: 'Hold loss', measure: 'pressure' },
    { name: 'hold_minutes', label: 'Hold, minutes' },
    { name: 'pressure_unit', label: 'Pressure unit of the row' },
    { name: 'line', label: 'Line: dry, film, wet or not seen' },
    { name: 'pedal', label: 'Pedal: normal, went hard or hard' },
    { name: 'belt', label: 'Belt' },
    { name: 'barometer', label: 'Barometer at the station, kPa', otherNames: ['barometer_kpa'] },
    { name: 'odometer', label: 'Odometer', measure: 'distance', otherNames: ['mileage'] },
    { name: 'technician', label: 'Technician: badge, e-mail or name', otherNames: ['read_by'] },
    { name: 'gauge', label: 'Gauge' },
    { name: 'note', label: 'Note', otherNames: ['notes', 'remark', 'remarks'] },
  ],
  fitments: [
    unitField,
    { name: 'part', label: 'Part', isRequired: true },
    { name: 'fitted_on', label: 'Fitted on, date', isRequired: true, otherNames: ['date'] },
    { name: 'odometer', label: 'Odometer', measure: 'distance', otherNames: ['mileage'] },
    { name: 'revision', label: 'Revision' },
    { name: 'date_code', label: 'Date code' },
    { name: 'why_replaced', label: 'Why the part before came off', otherNames: ['why'] },
  ],
  'work orders': [
    unitField,
    { name: 'order', label: 'Number of the order', isRequired: true, otherNames: ['work_order'] },
    { name: 'why', label: 'Why', isRequired: true, otherNames: ['reason', 'complaint'] },
    { name: 'tasks', label: 'Tasks, with semicolons between', isRequired: true },
    { name: 'raised_on', label: 'Raised on, date', isRequired: true, otherNames: ['date'] },
    { name: 'wanted_by', label: 'Wanted by, date', otherNames: ['due', 'due_on'] },
    { name: 'finished_on', label: 'Finished on, date', otherNames: ['closed_on'] },
    { name: 'finished_by', label: 'Finished by: badge or e-mail' },
    { name: 'odometer', label: 'Odometer', measure: 'distance', otherNames: ['mileage'] },
  ],
};

/** `fieldOf('readings', 'idle_vacuum')?.measure` is `pressure`. */
export const fieldOf = (kind: ImportKind, name: string): ImportField | undefined =>
  importFields[kind].find((field) => field.name === name);
