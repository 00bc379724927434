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

  /** Every role and action at the role's own shed, at another, and where no unit is concerned. */
  const questions = roles.flatMap((role, i) =>
    actions.flatMap((action) =>
      ['river', 'quay', undefined].map((shed) => {
        const sign = rule[action][i];
        return [role, action, shed, sign === 'y' || (sign === 'o' && shed !== 'quay')] as const;
      }),
    ),
  );

  it('own sheds means own sheds, and every other right holds everywhere', () => {
    for (const [role, action, shed, isAllowed] of questions)
      expect(may(actor(role, ['river']), action, shed), `${role}, ${action}, ${shed}`).toBe(
        isAllowed,
      );
    expect(may(actor('technician'), 'record a reading', 'river')).toBe(false);
  });

  it('refuses aloud, and lets pass what is allowed', () => {
    for (const [role, action, shed, isAllowed] of questions) {
      const ask = () => requirePermission(actor(role, ['river']), action, shed);
      if (isAllowed) expect(ask).not.toThrow();
      else expect(ask).toThrow(`${role} may not ${action}`);
    }
    const refusal = new AccessDenied(actor('auditor'), 'release to service');
    expect(() => requirePermission(refusal.actor, refusal.action)).toThrow(AccessDenied);
    expect(String(refusal)).toBe('AccessDenied: auditor may not release to service');
  });

  it('anyone in operations can stop a unit; only one role starts it again', () => {
    const stops = roles.filter((role) => permissionOf(role, 'stand a unit down') !== 'no');
    const starts = roles.filter((role) => permissionOf(role, 'release to service') !== 'no');
    expect(stops).toEqual(['technician', 'fleet manager', 'safety officer']);
    expect(starts).toEqual(['safety officer']);
  });
});
