/** Who may do what. Checked in the data layer with the actor as first argument, never only in a page. */
export const roles = ['technician', 'fleet manager', 'safety officer', 'auditor', 'admin'] as const;
export type Role = (typeof roles)[number];

export interface Actor {
  readonly personId: string;
  readonly name: string;
  readonly role: Role;
  /** Sheds that a technician works in; other operating roles see all. */
  readonly shedIds: readonly string[];
  /** When the role was given: a role under 24 hours old cannot release. */
  readonly roleSince: Date;
}

export const actions = [
  'see units',
  'see people',
  'record a reading',
  'amend a reading',
  'approve an amendment',
  'stand a unit down',
  'certify a repair',
  'release to service',
  'raise a work order',
  'work a work order',
  'plan',
  'edit bulletins',
  'record a unit fact',
  'approve a do-not-drive bulletin',
  'import',
  'propose limits',
  'approve limits',
  'purge records',
  'see the ledger',
  'export',
  "make an auditor's pack",
  'change people',
  'change sheds',
  'end own sessions',
  'choose own units',
] as const;
export type Action = (typeof actions)[number];

/** `own sheds` needs the shed of the thing acted on; `yes` holds everywhere. */
export type Permission = 'yes' | 'own sheds' | 'no';

const matrix: Record<Role, Partial<Record<Action, Permission>>> = {
  technician: {
    'end own sessions': 'yes',
    'choose own units': 'yes',
    'see units': 'own sheds',
    'record a reading': 'own sheds',
    'amend a reading': 'own sheds',
    'stand a unit down': 'yes',
    'certify a repair': 'own sheds',
    'raise a work order': 'own sheds',
    'work a work order': 'own sheds',
    'record a unit fact': 'own sheds',
    'see the ledger': 'own sheds',
    export: 'own sheds',
  },
  'fleet manager': {
    'end own sessions': 'yes',
    'choose own units': 'yes',
    'see units': 'yes',
    'stand a unit down': 'yes',
    'raise a work order': 'yes',
    'work a work order': 'yes',
    plan: 'yes',
    'edit bulletins': 'yes',
    'record a unit fact': 'yes',
    import: 'yes',
    'propose limits': 'yes',
    'see the ledger': 'yes',
    export: 'yes',
    "make an auditor's pack": 'yes',
  },
  'safety officer': {
    'end own sessions': 'yes',
    'choose own units': 'yes',
    'see units': 'yes',
    'record a reading': 'yes',
    'amend a reading': 'yes',
    'approve an amendment': 'yes',
    'stand a unit down': 'yes',
    'release to service': 'yes',
    'approve a do-not-drive bulletin': 'yes',
    'approve limits': 'yes',
    'purge records': 'yes',
    'see the ledger': 'yes',
    export: 'yes',
    "make an auditor's pack": 'yes',
  },
  auditor: {
    'end own sessions': 'yes',
    'choose own units': 'yes',
    'see units': 'yes',
    'see the ledger': 'yes',
    export: 'yes',
    "make an auditor's pack": 'yes',
  },
  admin: {
    'see people': 'yes',
    'change people': 'yes',
    'change sheds': 'yes',
    'end own sessions': 'yes',
    'choose own units': 'yes',
  },
};

export const permissionOf = (role: Role, action: Action): Permission =>
  matrix[role][action] ?? 'no';

/** `shedId` is the shed of the unit acted on; leave it out only for actions that concern no unit. */
export function may(actor: Actor, action: Action, shedId?: string): boolean {
  const permission = permissionOf(actor.role, action);
  if (permission !== 'own sheds') return permission === 'yes';
  return shedId === undefined || actor.shedIds.includes(shedId);
}

export class AccessDenied extends Error {
  constructor(
    readonly actor: Actor,
    readonly action: Action,
  ) {
    super(`${actor.role} may not ${action}`);
    this.name = 'AccessDenied';
  }
}

export function requirePermission(actor: Actor, action: Action, shedId?: string): void {
  if (!may(actor, action, shedId)) throw new AccessDenied(actor, action);
}
