import { useState } from 'preact/hooks';
import { judgeRecording } from '../parts/api.ts';
import { Pick } from '../parts/pick.tsx';
import { words } from '../parts/words.ts';
import { signedBy } from '../people/your-name.tsx';
import { cordsOf, textOf } from './cord-fields.tsx';
import { type Stock, type Subject, SubjectFields } from './fields.tsx';

/** The same check from a recorded bead: chosen, judged by the server, kept. */
export function FromRecording(stock: Stock) {
  return (
    <details class="from-recording">
      <summary>{words.check.recording.heading}</summary>
      <Wish {...stock} />
    </details>
  );
}

function Wish(stock: Stock) {
  const [files, setFiles] = useState<File[]>([]);
  const [at, setAt] = useState<'outlet' | 'machine' | 'unstated'>('unstated');
  const [of, setOf] = useState<Subject>({
    ...{ circuit: stock.circuits[0]?.id ?? 0, plate: stock.plates[0]?.id ?? 0 },
    ...{ cord: textOf(undefined), place: '' },
  });
  const [fault, setFault] = useState('');
  const [judging, setJudging] = useState(false);
  const text = words.check.recording;
  const judge = async (event: Event) => {
    event.preventDefault();
    if (files.length === 0) return setFault(text.none);
    setFault('');
    setJudging(true);
    try {
      const { circuit, plate, cord, place } = of;
      const keep = { ...signedBy('person'), place };
      const where = at === 'unstated' ? null : at;
      const about = { circuit, plate, at: where, cords: cordsOf(cord), keep };
      const { check } = await judgeRecording(files, about);
      if (check) location.hash = `#/check/${check.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
    setJudging(false);
  };
  return (
    <form class="editor" onSubmit={judge}>
      <p>{text.what}</p>
      <label class="field">
        {text.files}
        <input
          type="file"
          multiple
          accept=".csv,.txt,.cff,.cfg,.dat"
          onChange={(event) => setFiles([...(event.currentTarget.files ?? [])])}
        />
      </label>
      <Pick
        label={text.where}
        value={at}
        options={[
          ['outlet', words.check.at.outlet],
          ['machine', words.check.at.machine],
          ['unstated', text.whereNotKnown],
        ]}
        hint={at === 'unstated' ? text.whereHint : ''}
        onPick={setAt}
      />
      <SubjectFields stock={stock} value={of} onChange={setOf} />
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide big" disabled={judging}>
        {judging ? text.judging : text.judge}
      </button>
    </form>
  );
}
