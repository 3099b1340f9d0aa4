import { useEffect, useState } from 'preact/hooks';
import type { AuditEntry, Person } from '../../../../shared/protocol/http-people.ts';
import { when } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { me } from './asking.ts';
import { type AuditFilter, auditCsv, auditPage, people } from './people-api.ts';

const everything: AuditFilter = { area: null, person: null, from: null, to: null };

/** Who changed what: a page at a time, by area, person and day. */
export function AuditView() {
  const [filter, setFilter] = useState(everything);
  const [entries, setEntries] = useState<AuditEntry[] | null>(null);
  const [next, setNext] = useState<number | null>(null);
  const [fault, setFault] = useState('');
  const asked = me.value?.person?.id ?? 0;
  const failed = (error: Error) => setFault(error.message);
  useEffect(() => {
    let gone = false;
    auditPage(filter, null).then((page) => {
      if (gone) return;
      setFault('');
      setEntries(page.entries);
      setNext(page.next);
    }, failed);
    return () => {
      gone = true;
    };
  }, [filter, asked]);
  const older = async () => {
    const page = await auditPage(filter, next);
    setEntries([...(entries ?? []), ...page.entries]);
    setNext(page.next);
  };
  const says = words.people.audit;
  return (
    <main class="narrow audit">
      <p class="back">
        <a href="#/shop">{words.shop.back}</a>
      </p>
      <h1 tabIndex={-1}>{says.title}</h1>
      <p>{says.what}</p>
      <Filters filter={filter} onFilter={setFilter} />
      <p class="fault" role="alert">
        {fault}
      </p>
      {entries?.length === 0 && <p class="empty">{says.none}</p>}
      <ol class="changes">
        {entries?.map((entry) => (
          <Entry key={entry.id} entry={entry} />
        ))}
      </ol>
      <p class="actions">
        {next !== null && (
          <button type="button" onClick={() => older().catch(failed)}>
            {says.older}
          </button>
        )}
        <a class="button" href={auditCsv(filter)} download="changes.csv">
          {says.csv}
        </a>
      </p>
    </main>
  );
}

interface FiltersProps {
  filter: AuditFilter;
  onFilter(filter: AuditFilter): void;
}

function Filters({ filter, onFilter }: FiltersProps) {
  const [all, setAll] = useState<Person[]>([]);
  useEffect(() => {
    people().then(setAll, () => setAll([]));
  }, []);
  const says = words.people.audit;
  /** Midnight of this device, at the day's begin or at the next one's. */
  const moment = (text: string, days: number) => {
    if (text === '') return null;
    const at = new Date(`${text}T00:00:00`);
    at.setDate(at.getDate() + days);
    return Number.isNaN(at.getTime()) ? null : at.toISOString();
  };
  return (
    <div class="row">
      <label class="field">
        {says.area}
        <select
          onChange={(event) => onFilter({ ...filter, area: event.currentTarget.value || null })}
        >
          <option value="">{says.all}</option>
          {Object.entries(says.areas).map(([area, name]) => (
            <option key={area} value={area}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label class="field">
        {says.person}
        <select
          onChange={(event) =>
            onFilter({ ...filter, person: Number(event.currentTarget.value) || null })
          }
        >
          <option value="">{says.all}</option>
          {all.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label class="field">
        {says.from}
        <input
          type="date"
          onChange={(event) => onFilter({ ...filter, from: moment(event.currentTarget.value, 0) })}
        />
      </label>
      <label class="field">
        {says.through}
        <input
          type="date"
          onChange={(event) => onFilter({ ...filter, to: moment(event.currentTarget.value, 1) })}
        />
      </label>
    </div>
  );
}

function Entry({ entry }: { entry: AuditEntry }) {
  const { at, person, device, area, before, after } = entry;
  const says = words.people.audit;
  return (
    <li>
      <strong>{said(entry)}</strong>
      <small>
        {when(at)} · {person?.name ?? says.nobody}, {device ?? says.own} · {says.areas[area]}
      </small>
      {(before !== null || after !== null) && (
        <details>
          <summary>{says.raw}</summary>
          <Raw heading={says.before} value={before} />
          <Raw heading={says.after} value={after} />
        </details>
      )}
    </li>
  );
}

/** Focusable, so that arrow keys reach what is wider than the screen. */
function Raw({ heading, value }: { heading: string; value: unknown }) {
  return (
    <>
      <h2>{heading}</h2>
      {value === null ? (
        <p>{words.people.audit.nothing}</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls
        <pre tabIndex={0}>{JSON.stringify(value, null, 2)}</pre>
      )}
    </>
  );
}
