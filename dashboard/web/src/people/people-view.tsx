import { useEffect, useState } from 'preact/hooks';
import type { Person, Role } from '../../../../shared/protocol/http-people.ts';
import { words } from '../parts/words.ts';
import { me } from './asking.ts';
import { addPerson, changePerson, fetchMe, people } from './people-api.ts';

const roles: readonly Role[] = ['watch', 'weld', 'lead'];

/** Who is named here and may do what; leads add and change them. */
export function PeopleView() {
  const [all, setAll] = useState<Person[] | null>(null);
  const [fault, setFault] = useState('');
  const [said, setSaid] = useState('');
  const asked = me.value?.person?.id ?? 0;
  useEffect(() => {
    people().then(setAll, (error: Error) => setFault(error.message));
  }, [asked]);
  const saved = (person: Person) => {
    setAll((now) => [...(now ?? []).filter(({ id }) => id !== person.id), person].sort(byId));
    setSaid(words.people.saved(person.name));
    fetchMe().then(
      (heard) => {
        me.value = heard;
      },
      () => {},
    );
  };
  const says = words.people;
  return (
    <main class="narrow people">
      <h1 tabIndex={-1}>{says.title}</h1>
      <p>{says.what}</p>
      {all?.length === 0 && <p>{says.firstLead}</p>}
      <p class="fault" role="alert">
        {fault}
      </p>
      <p role="status">{said}</p>
      <ul class="stock">
        {all?.map((person) => (
          <li key={person.id}>
            <Known person={person} onSaved={saved} />
          </li>
        ))}
      </ul>
      {all && (
        <section>
          <h2>{says.add}</h2>
          <Form key={all.length} person={null} first={all.length === 0} onSaved={saved} />
        </section>
      )}
      <p>
        <a class="button" href="#/audit">
          {says.changesLink}
        </a>
      </p>
    </main>
  );
}

const byId = (a: Person, b: Person) => a.id - b.id;

function Known({ person, onSaved }: { person: Person; onSaved(person: Person): void }) {
  const { name, role, disabled } = person;
  return (
    <details>
      <summary>
        <strong>{name}</strong>
        <small>{disabled ? words.people.gone : words.people.roles[role]}</small>
      </summary>
      <Form key={JSON.stringify(person)} {...{ person, onSaved }} first={false} />
    </details>
  );
}

interface FormProps {
  person: Person | null;
  first: boolean;
  onSaved(person: Person): void;
}

function Form({ person, first, onSaved }: FormProps) {
  const [fault, setFault] = useState('');
  const says = words.people;
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const text = (key: string) => String(form.get(key) ?? '').trim();
    const [name, role, pin] = [text('name'), text('role') as Role, text('pin')];
    const pinIs = /^\d{4,8}$/.test(pin);
    if (name === '') return setFault(says.faults.name);
    if (!pinIs && (person === null || pin !== '')) return setFault(says.faults.pin);
    const change = { name, role, disabled: form.has('left') };
    try {
      const known = person?.id;
      onSaved(
        known === undefined
          ? await addPerson({ name, role, pin })
          : await changePerson(known, pinIs ? { ...change, pin } : change),
      );
    } catch (error) {
      setFault(says.notSaved((error as Error).message));
    }
  };
  return (
    <form class="editor" onSubmit={(event) => void save(event)} noValidate>
      <label class="field">
        {says.name}
        <input name="name" maxLength={80} autoComplete="off" defaultValue={person?.name ?? ''} />
      </label>
      <Roles chosen={person?.role ?? (first ? 'lead' : 'weld')} only={first ? 'lead' : null} />
      <label class="field">
        {person ? says.newPin : says.pin}
        <input
          name="pin"
          type="password"
          inputMode="numeric"
          autoComplete="new-password"
          maxLength={8}
        />
      </label>
      {person && (
        <label class="tick">
          <input type="checkbox" name="left" defaultChecked={person.disabled} />
          <span>{says.left}</span>
        </label>
      )}
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="main">
        {person ? says.save : says.add}
        {person && <span class="unseen">: {says.change(person.name)}</span>}
      </button>
    </form>
  );
}

function Roles({ chosen, only }: { chosen: Role; only: Role | null }) {
  return (
    <fieldset class="rows roles">
      <legend>{words.people.role}</legend>
      {roles.map((role) => (
        <label key={role} class="tick">
          <input
            type="radio"
            name="role"
            value={role}
            defaultChecked={role === chosen}
            disabled={only !== null && role !== only}
          />
          <span>{words.people.rolesMean[role]}</span>
        </label>
      ))}
    </fieldset>
  );
}
