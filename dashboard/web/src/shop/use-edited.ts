import { useEffect, useState } from 'preact/hooks';
import type { Refusal } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import type { Stock, Stored } from './stock.ts';

/** What is being edited: the version that it was read as, and what another made of it meanwhile. */
export function useEdited<Value>(id: number | null, stock: Stock<Value>) {
  const [stored, setStored] = useState<Stored<Value> | null>(null);
  const [clash, setClash] = useState<{ mine: Value; theirs: Stored<Value> } | null>(null);
  const [fault, setFault] = useState('');
  const [changed, setChanged] = useState(false);
  /** Counts the versions that were put into the form: each draws it anew. */
  const [shown, setShown] = useState(0);
  const fetchIt = async () => {
    const found = (await stock.all()).find((each) => each.id === id);
    if (!found) throw new Error(words.shop.noneSuch);
    return found;
  };
  useEffect(() => {
    if (id !== null) fetchIt().then(setStored, (error: Error) => setFault(error.message));
  }, [id]);
  return {
    ...{ stored, setStored, clash, changed, fault, shown },
    touch: () => setChanged(true),
    /** Shows another version in the form, in place of what is there. */
    show: (next: Stored<Value>) => {
      setStored(next);
      setClash(null);
      setChanged(false);
      setShown(shown + 1);
    },
    /** False where another saved first: `clash` says what. */
    save: async (mine: Value) => {
      try {
        await stock.save(stored && { id: stored.id, version: stored.version }, mine);
      } catch (error) {
        if ((error as Refusal).code !== 'changed-meanwhile') throw error;
        setClash({ mine, theirs: await fetchIt() });
        return false;
      }
      return true;
    },
    /** The next save goes over what the other made. */
    saveOver: () => {
      if (clash) setStored(clash.theirs);
      setClash(null);
    },
  };
}
