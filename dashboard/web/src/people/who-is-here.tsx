import { words } from '../parts/words.ts';
import { asking, me } from './asking.ts';

/** In the head: who is signed in at this device, and the way in and out. */
export function WhoIsHere() {
  const now = me.value;
  if (!now?.people) return null;
  const { head, roles } = words.people;
  const open = () => {
    asking.value = 'tapped';
  };
  return (
    <button type="button" class="who" onClick={open}>
      {now.person ? (
        <>
          <span class="who-name">{head.who(now.person.name, roles[now.person.role])}</span>
          <span class="unseen">. {head.change}</span>
        </>
      ) : (
        head.signIn
      )}
    </button>
  );
}

/** On another device, as long as whoever has the code may change everything. */
export function SuggestLead() {
  const now = me.value;
  if (!now || now.people || now.own || now.role !== 'lead') return null;
  return (
    <p class="missed" role="status">
      <span>{words.people.suggest}</span>
      <a class="back" href="#/people">
        {words.people.suggestDo}
      </a>
    </p>
  );
}
