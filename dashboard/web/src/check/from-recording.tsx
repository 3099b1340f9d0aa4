import { useState } from 'preact/hooks';
import { judgeRecording } from '../parts/api.ts';
import { Typed } from '../parts/typed.tsx';
import { words } from '../parts/words.ts';
import { signedBy, YourName } from '../people/your-name.tsx';
import { CordFields, cordsOf, textOf } from './cord-fields.tsx';
import { Pick, type Stock } from './fields.tsx';

/** The same check from a recorded bead: chosen, judged by the server, kept. */
export function FromRecording({ circuits, plates }: Stock) {
  return (
    <details class="from-recording">
      <summary>{words.check.recording.heading}</summary>
      <Wish circuits={circuits} plates={plates} />
    </details>
  );
}

function Wish({ circuits, plates }: Stock) {
  const [files, setFiles] = useState<File[]>([]);
  const [circuit, setCircuit] = useState(circuits[0]?.id ?? 0);
  const [plate, setPlate] = useState(plates[0]?.id ?? 0);
  const [at, setAt] = useState<'outlet' | 'machine'>('outlet');
  const [cord, setCord] = useState(textOf(undefined));
  const [place, setPlace] = useState('');
  const [fault, setFault] = useState('');
  const [judging, setJudging] = useState(false);
  const text = words.check.recording;
  const judge = async (event: Event) => {
    event.preventDefault();
    if (files.length === 0) return setFault(text.none);
    setFault('');
    setJudging(true);
    try {
      const keep = { ...signedBy('person'), place };
      const about = { circuit, plate, at, cords: cordsOf(cord), keep };
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
      <label class="field">
        {text.where}
        <select value={at} onChange={(event) => setAt(event.currentTarget.value as typeof at)}>
          <option value="outlet">{words.check.at.outlet}</option>
          <option value="machine">{words.check.at.machine}</option>
        </select>
      </label>
      <Pick label={words.check.circuit} value={circuit} onPick={setCircuit}>
        {circuits.map((each) => [each.id, each.circuit.name])}
      </Pick>
      <Pick label={words.check.machine} value={plate} onPick={setPlate}>
        {plates.map((each) => [each.id, each.plate.name])}
      </Pick>
      <CordFields value={cord} onChange={setCord} />
      <Typed label={words.check.place} value={place} onTyped={setPlace} />
      <YourName />
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide big" disabled={judging}>
        {judging ? text.judging : text.judge}
      </button>
    </form>
  );
}
