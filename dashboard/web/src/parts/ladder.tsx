import { figure } from './format.ts';
import { words } from './words.ts';

/**
 * The ladder: one upright volt scale with the plate's permitted band as a broad rung. On it the
 * no-load voltage (open ring), the arc (a bar from its mean down to its lowest 200 ms) and the
 * voltage foretold at full load (a lozenge, its interval a whisker). Inside the rung is enough,
 * under it is not; it must read at five metres and in black and white.
 */
export interface LadderFacts {
  /** Rated supply voltage; the scale runs from 80 % to 115 % of it. */
  rated: number;
  band: readonly [lowest: number, highest: number];
  open: number | null;
  arc: { mean: number; lowest: number } | null;
  foretold: { volts: number; low: number; high: number } | null;
}

const height = 220;
const width = 132;
const top = 14;
const bottom = height - 14;
const post = 46;

export function Ladder({ facts }: { facts: LadderFacts }) {
  const least = facts.rated * 0.8;
  const most = facts.rated * 1.15;
  const y = (volts: number) => {
    const part = (Math.min(most, Math.max(least, volts)) - least) / (most - least);
    return bottom - part * (bottom - top);
  };
  const [low, high] = facts.band;
  const marks = [high, facts.rated, low];
  return (
    <svg class="ladder" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={told(facts)}>
      <line class="post" x1={post} y1={top - 6} x2={post} y2={bottom + 6} />
      <rect class="rung" x={post - 6} y={y(high)} width={84} height={y(low) - y(high)} rx={4} />
      <line class="floor" x1={post - 6} y1={y(low)} x2={post + 78} y2={y(low)} />
      {marks.map((volts) => (
        <text key={volts} x={post - 12} y={y(volts) + 4} text-anchor="end">
          {Math.round(volts)}
        </text>
      ))}
      {facts.open !== null && <Open volts={facts.open} least={least} most={most} y={y} />}
      {facts.arc && (
        <rect
          class="arc"
          x={post + 34}
          y={y(facts.arc.mean)}
          width={11}
          height={Math.max(4, y(facts.arc.lowest) - y(facts.arc.mean))}
          rx={2}
        />
      )}
      {facts.foretold && <Lozenge x={post + 62} {...facts.foretold} y={y} />}
    </svg>
  );
}

interface OpenFacts {
  volts: number;
  least: number;
  most: number;
  y(volts: number): number;
}

/** An open ring; an arrow out of the scale where it lies beyond it: another class of voltage. */
function Open({ volts, least, most, y }: OpenFacts) {
  const at = y(volts);
  if (volts >= least && volts <= most) return <circle class="open" cx={post + 18} cy={at} r={7} />;
  const out = volts > most ? -1 : 1;
  const x = post + 18;
  return <path class="open" d={`M${x - 9} ${at}L${x} ${at + 12 * out}L${x + 9} ${at}z`} />;
}

interface LozengeFacts {
  x: number;
  volts: number;
  low: number;
  high: number;
  y(volts: number): number;
}

function Lozenge({ x, volts, low, high, y }: LozengeFacts) {
  const at = y(volts);
  const points = `${x},${at - 9} ${x + 8},${at} ${x},${at + 9} ${x - 8},${at}`;
  return (
    <g class="foretold">
      <path d={`M${x} ${y(high)}V${y(low)}M${x - 6} ${y(high)}h12M${x - 6} ${y(low)}h12`} />
      <polygon points={points} />
    </g>
  );
}

/** What the picture shows, for who cannot see it. */
function told({ band, open, arc, foretold }: LadderFacts): string {
  const { ladder } = words.parts;
  const volt = (value: number) => `${figure(value)} V`;
  const says = [ladder.permits(volt(band[0]), volt(band[1]))];
  if (open !== null) says.push(ladder.noLoad(volt(open)));
  if (arc) says.push(ladder.arc(volt(arc.mean), volt(arc.lowest)));
  if (foretold)
    says.push(ladder.foretold(volt(foretold.volts), volt(foretold.low), volt(foretold.high)));
  return says.join(' ');
}
