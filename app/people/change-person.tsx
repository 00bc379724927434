import { Button } from '@/app/_ui/button';
import type { People, PersonListed } from '@/db/reads/people';
import { changeAction } from './actions';
import { PeopleForm } from './people-form';
import { PlaceFields } from './place-fields';

interface ChangePersonProps {
  readonly person: PersonListed;
  readonly sheds: People['sheds'];
}

export function ChangePerson({ person, sheds }: ChangePersonProps) {
  return (
    <PeopleForm action={changeAction} personId={person.id}>
      <PlaceFields sheds={sheds} personId={person.id} role={person.role} shedIds={person.shedIds} />
      <p className="mute small">
        A role newly given is young for 24 hours: it cannot release a unit until then.
      </p>
      <div className="row">
        <Button type="submit" name="act" value="change" main>
          Save role and sheds
        </Button>
        {person.isActive && (
          <Button type="submit" name="act" value="reset">
            End the password, issue a code
          </Button>
        )}
        <Button type="submit" name="act" value={person.isActive ? 'bar' : 'let in'}>
          {person.isActive ? 'Bar and sign out everywhere' : 'Let in again'}
        </Button>
      </div>
    </PeopleForm>
  );
}
