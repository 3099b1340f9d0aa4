import { useRef, useState } from 'preact/hooks';
import { words } from '../parts/words.ts';
import { Editor } from './form.tsx';
import { Meanwhile } from './meanwhile.tsx';
import type { Stock, Stored, Version } from './stock.ts';
import { useEdited } from './use-edited.ts';
import { Versions } from './versions.tsx';

interface EditStockProps<Value> {
  id: number | null;
  stock: Stock<Value>;
}

/** Edits one thing of the shop: what two write at once is shown to both, what was is kept. */
export function EditStock<Value extends { name: string }>({ id, stock }: EditStockProps<Value>) {
  const edited = useEdited(id, stock);
  const { stored, clash, changed, fault, shown } = edited;
  const [said, setSaid] = useState('');
  const form = useRef<HTMLDivElement>(null);
  const saveMine = () => {
    edited.saveOver();
    // The form may have been written on since; it is what counts.
    setTimeout(() => form.current?.querySelector('form')?.requestSubmit(), 0);
  };
  const bringBack = async ({ version, value }: Version<Value>) => {
    const next = await stock.save(stored, value);
    edited.show(next);
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
      <div ref={form} onInput={edited.touch}>
        <Editor key={shown} save={(mine) => edited.save(mine as Value)}>
          {(faults) => stock.fields(value, faults)}
        </Editor>
      </div>
      {clash && (
        <Meanwhile
          {...clash}
          told={stock.told}
          onMine={saveMine}
          onTheirs={() => edited.show(clash.theirs)}
        />
      )}
      <p role="status">{said}</p>
      {stored && stock.beside?.(stored)}
      {stored && <Versions {...{ stock, stored, changed }} onBringBack={bringBack} />}
      {stored && <Retire {...{ stock, stored }} onStored={edited.setStored} />}
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
      {!stored.retired && <p>{stock.retireSays ?? words.shop.retireSays}</p>}
      <button type="button" onClick={() => void turn()}>
        {stored.retired ? words.shop.takeBack : words.shop.retire}
      </button>
      <p class="fault" role="alert">
        {fault}
      </p>
    </section>
  );
}
