import type { Ref } from 'preact';
import { who } from '../parts/who.ts';
import { words } from '../parts/words.ts';
import { me } from './asking.ts';

/** Where people are named, another device signs in; its typed name would not count. */
export const mayType = (): boolean => me.value === null || me.value.own || !me.value.people;

/** The name under what is done: of who is signed in, else as it is typed here. */
export const signedName = (): string => me.value?.person?.name ?? who.value.trim();

/**
 * The same as a request carries it; nothing where only signing in will do: the server then asks
 * for it, and the page goes on with whoever has signed in.
 * @throws Error where a name could be typed and none was.
 */
export function signedBy<Key extends string>(key: Key): { [K in Key]?: string } {
  const name = signedName();
  if (name === '' && mayType()) throw new Error(words.people.nameFirst);
  return (name === '' ? {} : { [key]: name }) as { [K in Key]?: string };
}

/** Asks for the name only where nobody is signed in. */
export function YourName({ field }: { field?: Ref<HTMLInputElement> }) {
  const person = me.value?.person;
  if (!person && !mayType()) return null;
  if (person) return <p>{words.people.signedAs(person.name)}</p>;
  return (
    <label class="field">
      {words.people.yourName}
      <input
        ref={field ?? null}
        value={who.value}
        maxLength={80}
        autoComplete="name"
        onInput={(event) => {
          who.value = event.currentTarget.value;
        }}
      />
    </label>
  );
}
