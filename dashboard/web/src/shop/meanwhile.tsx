import { useEffect, useRef } from 'preact/hooks';
import { words } from '../parts/words.ts';
import { differing } from './differing.ts';
import type { Stock, Stored } from './stock.ts';
import { toldInWords } from './told.ts';

interface MeanwhileProps<Value> {
  mine: Value;
  theirs: Stored<Value>;
  told: Stock<Value>['told'];
  onMine(): void;
  onTheirs(): void;
}

/** Two edited the same: what differs, and which shall stand. */
export function Meanwhile<Value>(props: MeanwhileProps<Value>) {
  const { mine, theirs, told = toldInWords, onMine, onTheirs } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const says = words.shop.meanwhile;
  const places = differing(told(mine), told(theirs.value));
  return (
    <section class="meanwhile" role="alert">
      <h2 ref={heading} tabIndex={-1}>
        {says.heading}
      </h2>
      <p>{says.what(theirs.changedBy ?? says.somebody, theirs.version)}</p>
      {places.length === 0 && <p>{says.same}</p>}
      {places.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">{says.field}</th>
              <th scope="col">{says.mine}</th>
              <th scope="col">{says.theirs}</th>
            </tr>
          </thead>
          <tbody>
            {places.map((place) => (
              <tr key={place.path}>
                <th scope="row">{labelOf(place.path)}</th>
                <td>{place.mine || '–'}</td>
                <td>{place.theirs || '–'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="actions">
        <button type="button" class="main" onClick={onMine}>
          {says.saveMine}
        </button>
        <button type="button" onClick={onTheirs}>
          {says.takeTheirs}
        </button>
      </p>
    </section>
  );
}

/** As the field of the form is called; where none is, by the names of the fields on its way. */
function labelOf(path: string): string {
  const field = document.querySelector(`.editor [name="${CSS.escape(path)}"]`);
  const list = document.querySelector(`.editor [data-list="${CSS.escape(path)}"] legend`);
  return (
    field?.closest('label')?.firstChild?.textContent ?? list?.textContent ?? words.parts.field(path)
  );
}
