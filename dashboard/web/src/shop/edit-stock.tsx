import { useEffect, useRef, useState } from 'preact/hooks';
import type { Refusal } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import { Editor } from './form.tsx';
import { Meanwhile } from './meanwhile.tsx';
import type { Stock, Stored, Version } from './stock.ts';
import { Versions } from './versions.tsx';

interface EditStockProps<Value> {
  id: number | null;
  stock: Stock<Value>;
}

/** Edits one thing of the shop: what two write at once is shown to both, what was is kept. */
export function EditStock<Value extends { name: string }>({ id, stock }: EditStockProps<Value>) {
  const [stored, setStored] = useState<Stored<Value> | null>(null);
  const [clash, setClash] = useState<{ mine: Value; theirs: Stored<Value> } | null>(null);
  const [fault, setFault] = useState('');
  const [said, setSaid] = useState('');
  const [changed, setChanged] = useState(false);
  /** Counts the versions that were put into the form: each draws it anew. */
  const [shown, setShown] = useState(0);
  const form = useRef<HTMLDivElement>(null);
  const fetchIt = async () => {
    const found = (await stock.all()).find((each) => each.id === id);
    if (!found) throw new Error(words.shop.noneSuch);
    return found;
  };
  useEffect(() => {
    if (id !== null) fetchIt().then(setStored, (error: Error) => setFault(error.message));
  }, [id]);

  /** Shows another version in the form, in place of what is there. */
  const show = (next: Stored<Value>) => {
    setStored(next);
    setClash(null);
    setChanged(false);
    setShown(shown + 1);
  };
  const save = async (mine: Value, over = stored) => {
    try {
      await stock.save(over && { id: over.id, version: over.version }, mine);
    } catch (error) {
      if ((error as Refusal).code !== 'changed-meanwhile') throw error;
      setClash({ mine, theirs: await fetchIt() });
      return false;
    }
    return true;
  };
  const saveMine = () => {
    if (!clash) return;
    // The form may have been written on since; it is what counts.
    setStored(clash.theirs);
    setClash(null);
    setTimeout(() => form.current?.querySelector('form')?.requestSubmit(), 0);
  };
  const bringBack = async ({ version, value }: Version<Value>) => {
    const next = await stock.save(stored, value);
    show(next);
    setSaid(words.shop.versions.isBack(version, next.version));
  };
  if (id !== null && !stored) return <main class="empty">{fault || words.shop.fetching}</main>;
  const value: Partial<Value> = stored?.value ?? stock.blank ?? {};
  return (
    <main class="narrow">
      <p class="back">
        <a href="#/shop">{words.shop.back}</a>
      </p>
      <h1 tabIndex={-1}>{value.name ?? stock.newTitle}</h1>
      {stored?.retired && <p>{words.shop.isRetired}</p>}
      <div ref={form} onInput={() => setChanged(true)}>
        <Editor key={shown} save={(mine) => save(mine as Value)}>
          {(faults) => stock.fields(value, faults)}
        </Editor>
      </div>
      {clash && <Meanwhile {...clash} onMine={saveMine} onTheirs={() => show(clash.theirs)} />}
      <p role="status">{said}</p>
      {stored && <Versions {...{ stock, stored, changed }} onBringBack={bringBack} />}
      {stored && <Retire {...{ stock, stored }} onStored={setStored} />}
    </main>
  );
}

interface RetireProps<Value> {
  stock: Stock<Value>;
  stored: Stored<Value>;
  onStored(stored: Stored<Value>): void;
}

function Retire<Value>({ stock, stored, onStored }: RetireProps<Value>) {
  const [fault, setFault] = useState('');
  const turn = async () => {
    try {
      setFault('');
      onStored(await stock.retire(stored.id, !stored.retired));
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <section class="versions">
      {!stored.retired && <p>{words.shop.retireSays}</p>}
      <button type="button" onClick={() => void turn()}>
        {stored.retired ? words.shop.takeBack : words.shop.retire}
      </button>
      <p class="fault" role="alert">
        {fault}
      </p>
    </section>
  );
}
