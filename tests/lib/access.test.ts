import { describe, expect, it } from 'vitest';
import {
  AccessDenied,
  type Action,
  type Actor,
  actions,
  may,
  type Permission,
  permissionOf,
  type Role,
  requirePermission,
  roles,
} from '@/lib/access';

const actor = (role: Role, shedIds: string[] = []): Actor => ({
  personId: role,
  name: role,
  role,
  shedIds,
  roleSince: new Date(0),
});

/** The fleet's rule, role by role in the order of `roles`: y everywhere, o own sheds, - never. */
const rule: Record<Action, string> = {
  'see units': 'oyyy-',
  'see people': '----y',
  'record a reading': 'o-y--',
  'amend a reading': 'o-y--',
  'approve an amendment': '--y--',
  'stand a unit down': 'yyy--',
  'certify a repair': 'o----',
  'release to service': '--y--',
  'raise a work order': 'oy---',
  'work a work order': 'oy---',
  plan: '-y---',
  'edit bulletins': '-y---',
  'record a unit fact': 'oy---',
  'approve a do-not-drive bulletin': '--y--',
  import: '-y---',
  'propose limits': '-y---',
  'approve limits': '--y--',
  'purge records': '--y--',
  'see the ledger': 'oyyy-',
  export: 'oyyy-',
  "make an auditor's pack": '-yyy-',
  'change people': '----y',
  'change sheds': '----y',
  'end own sessions': 'yyyyy',
  'choose own units': 'yyyyy',
};
const meaning: Record<string, Permission> = { y: 'yes', o: 'own sheds', '-': 'no' };

describe('who may do what', () => {
  it.each(actions)('%s', (action) => {
    expect(roles.map((role) => permissionOf(role, action))).toEqual(
      [...rule[action]].map((sign) => meaning[sign]),
    );
  });

  it('own sheds means own sheds', () => {
    const technician = actor('technician', ['river']);
    expect(may(technician, 'record a reading', 'river')).toBe(true);
    expect(may(technician, 'record a reading', 'quay')).toBe(false);
    expect(may(actor('technician'), 'record a reading', 'river')).toBe(false);
  });

  it('refuses aloud', () => {
    expect(() => requirePermission(actor('auditor'), 'release to service')).toThrow(AccessDenied);
    expect(() => requirePermission(actor('technician', ['river']), 'see units', 'quay')).toThrow(
      'technician may not see units',
    );
  });

  it('anyone in operations can stop a unit; only one role starts it again', () => {
    const stops = roles.filter((role) => permissionOf(role, 'stand a unit down') !== 'no');
    const starts = roles.filter((role) => permissionOf(role, 'release to service') !== 'no');
    expect(stops).toEqual(['technician', 'fleet manager', 'safety officer']);
    expect(starts).toEqual(['safety officer']);
  });
});
