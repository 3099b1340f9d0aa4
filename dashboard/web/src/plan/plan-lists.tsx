import type { Process } from '../../../../shared/protocol/processes.ts';
import { words } from '../parts/words.ts';
import { type Chosen, type MachineLine, type NeedLine, newNeed, processes } from './plan-wish.ts';

interface ListProps {
  wish: Chosen;
  onWish(wish: Chosen): void;
}

const put = <T,>(list: readonly T[], at: number, value: T): T[] =>
  list.map((each, index) => (index === at ? value : each));

/** The shop's plates, with what each is for and what it would cost. */
export function MachineList({ wish, onWish }: ListProps) {
  const change = (at: number, line: MachineLine) =>
    onWish({ ...wish, machines: put(wish.machines, at, line) });
  return (
    <fieldset class="rows">
      <legend>{words.plan.machines}</legend>
      <Paste list="machines" wish={wish} onWish={onWish}>
        {wish.machines.map((line, at) => (
          <div class="plan-line" key={line.plate.name}>
            <Tick
              says={line.plate.name}
              on={line.chosen}
              onTick={(chosen) => change(at, { ...line, chosen })}
            />
            {line.chosen && (
              <div class="plan-detail">
                {processes.map((each) => (
                  <Tick
                    key={each}
                    says={words.parts.processes[each]}
                    on={line.processes.includes(each)}
                    onTick={(on) => change(at, { ...line, processes: ticked(line, each, on) })}
                  />
                ))}
                <Tick
                  says={words.plan.owned}
                  on={line.owned}
                  onTick={(owned) => change(at, { ...line, owned })}
                />
                {!line.owned && (
                  <Typed
                    label={words.plan.price}
                    value={line.price}
                    onTyped={(price) => change(at, { ...line, price })}
                  />
                )}
              </div>
            )}
          </div>
        ))}
        <p>
          <a href="#/edit-plate/new">{words.plan.addPlate}</a>
          {words.plan.toBuy}
        </p>
      </Paste>
    </fieldset>
  );
}

const ticked = (line: MachineLine, process: Process, on: boolean): Process[] =>
  processes.filter((each) => (each === process ? on : line.processes.includes(each)));

/** The shop's circuits; where arcs have shown the supply, the plan stands on that. */
export function CircuitList({ wish, onWish }: ListProps) {
  return (
    <fieldset class="rows">
      <legend>{words.plan.circuits}</legend>
      <Paste list="circuits" wish={wish} onWish={onWish}>
        {wish.circuits.map((line, at) => (
          <Tick
            key={line.circuit.name}
            says={words.plan.circuitOf(line.circuit.name, line.circuit.supply !== undefined)}
            on={line.chosen}
            onTick={(chosen) =>
              onWish({ ...wish, circuits: put(wish.circuits, at, { ...line, chosen }) })
            }
          />
        ))}
      </Paste>
    </fieldset>
  );
}

const mostNeeds = 60;

/** What the vehicle makers' procedures ask; as many lines as there is kinds of work. */
export function NeedList({ wish, onWish }: ListProps) {
  const { needs } = wish;
  const more = () => {
    const name = words.plan.workNumber(needs.length + 1);
    onWish({ ...wish, needs: [...needs, newNeed(name)] });
  };
  return (
    <fieldset class="rows">
      <legend>{words.plan.needs}</legend>
      <Paste list="needs" wish={wish} onWish={onWish}>
        {needs.map((line, at) => (
          <NeedFields
            key={at}
            line={line}
            onLine={(changed) => onWish({ ...wish, needs: put(needs, at, changed) })}
            onOff={() => onWish({ ...wish, needs: needs.filter((_, each) => each !== at) })}
          />
        ))}
        {needs.length < mostNeeds && (
          <button type="button" onClick={more}>
            {words.plan.addWork}
          </button>
        )}
      </Paste>
    </fieldset>
  );
}

interface NeedFieldsProps {
  line: NeedLine;
  onLine(line: NeedLine): void;
  onOff(): void;
}

function NeedFields({ line, onLine, onOff }: NeedFieldsProps) {
  const change = (part: Partial<NeedLine>) => onLine({ ...line, ...part });
  return (
    <div class="plan-line">
      <div class="row">
        <Typed
          label={words.plan.work}
          text
          value={line.name}
          onTyped={(name) => change({ name })}
        />
        <label class="field">
          {words.plan.process}
          <select
            value={line.process}
            onChange={(event) => change({ process: event.currentTarget.value as Process })}
          >
            {processes.map((each) => (
              <option key={each} value={each}>
                {words.parts.processes[each]}
              </option>
            ))}
          </select>
        </label>
        <Typed
          label={words.plan.minAmps}
          value={line.minAmps}
          onTyped={(minAmps) => change({ minAmps })}
        />
        <Typed
          label={words.plan.wire(line.wireUnit)}
          value={line.wire}
          onTyped={(wire) => change({ wire })}
        />
      </div>
      <div class="plan-detail">
        <Tick says={words.plan.pulse} on={line.pulse} onTick={(pulse) => change({ pulse })} />
        <button type="button" onClick={onOff}>
          {words.plan.takeOff}
          <span class="unseen">: {line.name}</span>
        </button>
      </div>
    </div>
  );
}

function Tick(props: { says: string; on: boolean; onTick(on: boolean): void }) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={props.on}
        onChange={(event) => props.onTick(event.currentTarget.checked)}
      />
      <span>{props.says}</span>
    </label>
  );
}

interface TypedProps {
  label: string;
  value: string;
  text?: boolean;
  onTyped(text: string): void;
}

function Typed({ label, value, text = false, onTyped }: TypedProps) {
  return (
    <label class="field">
      {label}
      <input
        inputMode={text ? 'text' : 'decimal'}
        autoComplete="off"
        value={value}
        onInput={(event) => onTyped(event.currentTarget.value)}
      />
    </label>
  );
}

interface PasteProps extends ListProps {
  list: keyof Chosen['pasted'];
  children: preact.ComponentChildren;
}

/** The list itself, or a pasted one in its place: the JSON that `stiffline plan` reads. */
function Paste({ list, wish, onWish, children }: PasteProps) {
  const text = wish.pasted[list];
  const paste = (json: string) => onWish({ ...wish, pasted: { ...wish.pasted, [list]: json } });
  const name = words.plan.lists[list];
  return (
    <>
      {text.trim() === '' ? children : <p>{words.plan.pastedTaken}</p>}
      <details class="paste">
        <summary>{words.plan.paste(name)}</summary>
        <label class="field">
          {words.plan.pasteWhat(name)}
          <textarea
            rows={6}
            spellcheck={false}
            value={text}
            onInput={(event) => paste(event.currentTarget.value)}
          />
        </label>
      </details>
    </>
  );
}
