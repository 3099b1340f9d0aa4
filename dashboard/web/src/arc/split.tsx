import './split.css';
import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import type { DropSplit, Share, SplitShares } from '../../../../shared/protocol/split.ts';
import { figure } from '../parts/format.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';

/** Shares nearer to one another than this are told as the same. */
const alike = 1.25;

/** A weld that both ends of a cord have seen: what the building took, what the cord took. */
export function Split({ detail: { at, twin, split, summary } }: { detail: ArcDetail }) {
  if (!twin || !split) return null;
  const { atArc, atFullLoad } = split;
  const text = words.split;
  return (
    <section class="split">
      <h2>{text.heading}</h2>
      {atArc && <Fall title={text.atArc(`${figure(atArc.amps)} A`)} shares={atArc} />}
      {atFullLoad && (
        <Fall title={text.atFullLoad(`${figure(atFullLoad.amps)} A`)} shares={atFullLoad} />
      )}
      {atArc && <p>{text.more[most(atArc)]}</p>}
      {split.doubt && (
        <p>
          {text.unproven} {doubtWords(split.doubt)}
        </p>
      )}
      <p class="twin">
        <a href={`#/arc/${twin.id}`}>
          <VerdictMark verdict={twin.verdict} size={24} />
          <span>
            {at === 'machine' ? text.twin.outlet : text.twin.machine}:{' '}
            <strong class={twin.verdict}>{verdictWord(twin.verdict)}</strong>
          </span>
        </a>
        {summary.countedBy !== null && ` ${text.twin.counts}`}
      </p>
    </section>
  );
}

function Fall({ title, shares }: { title: string; shares: SplitShares }) {
  const { building, cord, leftVolts, openVolts } = shares;
  const text = words.split;
  const volts = (value: number) => `${figure(value)} V`;
  const picture = text.picture(volts(building.volts), volts(cord.volts), volts(leftVolts));
  return (
    <figure class="fall">
      <figcaption>{title}</figcaption>
      <div class="fall-bar" role="img" aria-label={picture}>
        <span class="building" style={{ flexGrow: building.volts }} />
        <span class="cord" style={{ flexGrow: cord.volts }} />
      </div>
      <dl>
        <Taken name={text.shares.building} kind="building" share={building} />
        <Taken name={text.shares.cord} kind="cord" share={cord} />
        <div>
          <dt>{text.shares.left}</dt>
          <dd>
            <strong>{volts(leftVolts)}</strong>
            <small>{figure((100 * leftVolts) / openVolts)} %</small>
          </dd>
        </div>
      </dl>
    </figure>
  );
}

function Taken({ name, kind, share }: { name: string; kind: string; share: Share }) {
  const [low, high] = share.volts95;
  return (
    <div>
      <dt>
        <span class={`swatch ${kind}`} aria-hidden="true" />
        {name}
      </dt>
      <dd>
        <strong>{figure(share.volts)} V</strong>
        <small>
          {figure(100 * share.fraction)} %, {words.split.between(figure(low), figure(high))} V
        </small>
      </dd>
    </div>
  );
}

function most({ building, cord }: SplitShares): 'building' | 'cord' | 'both' {
  if (cord.volts > alike * building.volts) return 'cord';
  return building.volts > alike * cord.volts ? 'building' : 'both';
}

function doubtWords({ kind, outlet, machine }: NonNullable<DropSplit['doubt']>): string {
  const says = words.split.doubts[kind];
  if (typeof says === 'string') return says;
  const unit = kind === 'currents' ? 'A' : 'V';
  return says(`${figure(outlet)} ${unit}`, `${figure(machine)} ${unit}`);
}
