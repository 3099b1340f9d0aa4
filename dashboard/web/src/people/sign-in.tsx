import { useEffect, useRef, useState } from 'preact/hooks';
import type { Person } from '../../../../shared/protocol/http-people.ts';
import type { Refusal } from '../parts/api.ts';
import { clock } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { answered, asking, me, type SignInReason } from './asking.ts';
import { Keypad } from './keypad.tsx';
import { people, signIn, signOut } from './people-api.ts';

/** The dialog in which a person signs in, wherever the page is; nothing behind it is lost. */
export function SignIn() {
  const reason = asking.value;
  return reason === null ? null : <Dialog reason={reason} />;
}

function Dialog({ reason }: { reason: SignInReason }) {
  const frame = useRef<HTMLDialogElement>(null);
  const [all, setAll] = useState<Person[] | null>(null);
  const [chosen, setChosen] = useState<Person | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    frame.current?.showModal();
    people().then(setAll, (error: Error) => setFault(error.message));
  }, []);
  const says = words.people.signIn;
  const now = me.value;
  return (
    <dialog
      ref={frame}
      class="sign-in"
      aria-labelledby="who-heading"
      onCancel={() => answered(false)}
    >
      <h2 id="who-heading">{says.heading}</h2>
      {reason === 'not-signed-in' && <p>{says.needed}</p>}
      {reason === 'not-allowed' && <p>{says.notAllowed(now?.person?.name ?? '')}</p>}
      {reason === 'tapped' && now?.person && <SignedIn person={now.person} until={now.until} />}
      {chosen ? (
        <Pin key={chosen.id} person={chosen} onOther={() => setChosen(null)} />
      ) : (
        <ul class="tiles">
          {all
            ?.filter(({ disabled }) => !disabled)
            .map((person) => (
              <li key={person.id}>
                <button type="button" onClick={() => setChosen(person)}>
                  <span>
                    {person.name}
                    <small>{words.people.roles[person.role]}</small>
                  </span>
                </button>
              </li>
            ))}
        </ul>
      )}
      {all?.length === 0 && <p>{says.nobody}</p>}
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="button" class="wide" onClick={() => answered(false)}>
        {says.close}
      </button>
    </dialog>
  );
}

function SignedIn({ person, until }: { person: Person; until: string | null }) {
  const out = async () => {
    me.value = await signOut();
    answered(false);
  };
  return (
    <>
      <p>{words.people.signIn.until(person.name, until ? clock(until) : '–')}</p>
      <button type="button" class="wide" onClick={() => void out()}>
        {words.people.signIn.signOut}
      </button>
    </>
  );
}

function Pin({ person, onOther }: { person: Person; onOther(): void }) {
  const [digits, setDigits] = useState('');
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState('');
  const says = words.people.signIn;
  const enter = async () => {
    setBusy(true);
    try {
      me.value = await signIn(person.id, digits);
      answered(true);
    } catch (error) {
      const { code, waitS, message } = error as Refusal;
      const wrong = code === 'pin-wrong' ? says.wrong : '';
      const wait = waitS === null ? '' : says.wait(waitS);
      setFault(`${wrong} ${wait}`.trim() || message);
      setDigits('');
      setBusy(false);
    }
  };
  return (
    <>
      <p class="fault" role="alert">
        {fault}
      </p>
      <Keypad
        label={says.pinOf(person.name)}
        {...{ digits, busy }}
        onDigits={setDigits}
        onEnter={() => void enter()}
      />
      <button type="button" class="wide" onClick={onOther}>
        {says.other}
      </button>
    </>
  );
}
