import { useState } from 'preact/hooks';
import { when } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { differing } from './differing.ts';
import type { Stock, Stored, Version } from './stock.ts';
import { toldInWords } from './told.ts';

interface VersionsProps<Value> {
  stock: Stock<Value>;
  stored: Stored<Value>;
  /** What is in the form is not saved: bringing one back would lose it. */
  changed: boolean;
  onBringBack(version: Version<Value>): Promise<void>;
}

/** Every version there was, what each had otherwise, and the way back to it. */
export function Versions<Value>({ stock, stored, changed, onBringBack }: VersionsProps<Value>) {
  const [list, setList] = useState<Version<Value>[]>([]);
  const [next, setNext] = useState<number | null>(null);
  const [fault, setFault] = useState('');
  const says = words.shop.versions;
  const failed = (error: Error) => setFault(error.message);
  const load = async (before: number | null) => {
    const page = await stock.versions(stored.id, before);
    setList((now) => [...(before === null ? [] : now), ...page.versions]);
    setNext(page.next);
  };
  const back = async (version: Version<Value>) => {
    await onBringBack(version);
    await load(null);
  };
  return (
    <details
      class="versions"
      onToggle={(event) => {
        if (event.currentTarget.open) load(null).catch(failed);
      }}
    >
      <summary>{says.heading}</summary>
      {changed && <p>{says.firstSave}</p>}
      <ol>
        {list.map((each) => (
          <li key={each.version}>
            <span>
              {says.one(each.version, when(each.changedAt))}
              {each.changedBy && says.by(each.changedBy)}
              <small>{against(each, stored, stock.told)}</small>
            </span>
            {each.version !== stored.version && (
              <button type="button" disabled={changed} onClick={() => back(each).catch(failed)}>
                {says.bringBack}
                <span class="unseen">{says.bringBackOf(each.version)}</span>
              </button>
            )}
          </li>
        ))}
      </ol>
      {next !== null && (
        <button type="button" onClick={() => load(next).catch(failed)}>
          {says.older}
        </button>
      )}
      <p class="fault" role="alert">
        {fault}
      </p>
    </details>
  );
}

/** What the version had where it is otherwise now: "supply 1 I₁max 20 (24)". */
function against<Value>(
  each: Version<Value>,
  stored: Stored<Value>,
  told: Stock<Value>['told'] = toldInWords,
): string {
  if (each.version === stored.version) return words.shop.versions.now;
  const places = differing(told(each.value), told(stored.value));
  if (places.length === 0) return words.shop.versions.asNow;
  return places
    .map(({ path, mine, theirs }) => `${words.parts.field(path)} ${mine || '–'} (${theirs || '–'})`)
    .join(', ');
}
