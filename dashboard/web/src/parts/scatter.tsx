import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { plain } from './format.ts';

/** A small drawing with two labelled axes; marks are given by place in data. */
export interface ScatterFrame {
  x(value: number): number;
  y(value: number): number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

interface ScatterProps {
  /** What it shows, for who cannot see it. */
  says: string;
  xTicks: readonly (readonly [at: number, words: string])[];
  yTicks: readonly (readonly [at: number, words: string])[];
  xLabel: string;
  yLabel: string;
  frame: ScatterFrame;
  children: ComponentChildren;
}

/** On a phone a drawing has fewer units, so that its words stay as large as those around it. */
const phone = matchMedia('(max-width: 36rem)');
const slim = signal(phone.matches);
phone.addEventListener('change', () => {
  slim.value = phone.matches;
});
const sizes = { slim: [360, 300], wide: [640, 340] } as const;
/** Right of the axes and under them. */
const margins = [16, 48] as const;

/** Scales of a drawing; `log` for an x that spans decades. */
export function scatterFrame(
  [xMin, xMax]: readonly [number, number],
  [yMin, yMax]: readonly [number, number],
  log = false,
): ScatterFrame {
  const [width, height] = sizes[slim.value ? 'slim' : 'wide'];
  const [left, right, top, bottom] = [64, width - margins[0], 12, height - margins[1]];
  const along = log ? Math.log10 : (value: number) => value;
  const clamp = (part: number) => Math.min(1, Math.max(0, part));
  return {
    ...{ left, right, top, bottom },
    x: (value) =>
      left + clamp((along(value) - along(xMin)) / (along(xMax) - along(xMin))) * (right - left),
    y: (value) => bottom - clamp((value - yMin) / (yMax - yMin)) * (bottom - top),
  };
}

export function Scatter({ says, xTicks, yTicks, xLabel, yLabel, frame, children }: ScatterProps) {
  const { left, right, top, bottom } = frame;
  const [width, height] = [right + margins[0], bottom + margins[1]];
  const viewBox = `0 0 ${width} ${height}`;
  return (
    <svg
      class="scatter"
      style={{ maxWidth: `${1.1 * width}px` }}
      viewBox={viewBox}
      role="img"
      aria-label={says}
    >
      {yTicks.map(([at, words]) => (
        <g key={words}>
          <line class="grid" x1={left} x2={right} y1={frame.y(at)} y2={frame.y(at)} />
          <text x={left - 8} y={frame.y(at) + 5} text-anchor="end">
            {words}
          </text>
        </g>
      ))}
      {xTicks.map(([at, words]) => (
        <g key={words}>
          <line class="grid" x1={frame.x(at)} x2={frame.x(at)} y1={top} y2={bottom} />
          <text x={frame.x(at)} y={bottom + 20} text-anchor="middle">
            {words}
          </text>
        </g>
      ))}
      <text x={(left + right) / 2} y={height - 6} text-anchor="middle">
        {xLabel}
      </text>
      <text transform={`translate(14 ${(top + bottom) / 2}) rotate(-90)`} text-anchor="middle">
        {yLabel}
      </text>
      {children}
    </svg>
  );
}

/** A handful of round values between two, for an axis. */
export function roundTicks(from: number, to: number): [number, string][] {
  const rough = (to - from) / 5;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * decade).find((each) => each >= rough)!;
  const first = Math.ceil(from / step);
  const count = Math.floor(to / step) - first + 1;
  return Array.from({ length: count }, (_, index) => {
    const at = (first + index) * step;
    return [at, plain(Number(at.toPrecision(6)))];
  });
}
