import type {
  AuditQuery,
  AuditRecord,
  AuditStore,
  NewAuditRecord,
  NewPersonRecord,
  PeopleStore,
  PersonRecord,
  SessionRecord,
} from './people-store.ts';

/** People and sessions without a disk. */
export class MemoryPeople implements PeopleStore {
  #people: PersonRecord[] = [];
  #sessions: SessionRecord[] = [];

  list(): PersonRecord[] {
    return structuredClone(this.#people);
  }

  one(id: number): PersonRecord | null {
    return structuredClone(this.#people[id - 1] ?? null);
  }

  add(person: NewPersonRecord): PersonRecord {
    const id = this.#people.length + 1;
    this.#people.push({ ...person, id, disabled: false, wrong: 0, lockedUntilMs: 0 });
    return this.one(id)!;
  }

  save(person: PersonRecord): void {
    if (this.#people[person.id - 1]) this.#people[person.id - 1] = structuredClone(person);
  }

  begin(session: SessionRecord, nowMs: number, most: number): void {
    this.#sessions.push({ ...session });
    this.#sessions = this.#sessions.slice(-most).filter(({ endsMs }) => endsMs > nowMs);
  }

  session(hash: string, nowMs: number): SessionRecord | null {
    const found = this.#sessions.find((one) => one.hash === hash && one.endsMs > nowMs);
    return found ? { ...found } : null;
  }

  end(hash: string): void {
    this.#sessions = this.#sessions.filter((one) => one.hash !== hash);
  }

  endAllOf(person: number): void {
    this.#sessions = this.#sessions.filter((one) => one.person !== person);
  }
}

/** The audit list without a disk. */
export class MemoryAudit implements AuditStore {
  #entries: AuditRecord[] = [];

  add(entry: NewAuditRecord): AuditRecord {
    const { before = null, after = null } = entry;
    const added = structuredClone({ ...entry, before, after, id: this.#entries.length + 1 });
    this.#entries.push(added);
    return structuredClone(added);
  }

  list({ area, person, fromUs, toUs, before, limit }: AuditQuery): AuditRecord[] {
    const found = this.#entries
      .filter((entry) => area === undefined || entry.area === area)
      .filter((entry) => person === undefined || entry.person?.id === person)
      .filter((entry) => entry.atUs >= (fromUs ?? 0) && entry.atUs < (toUs ?? Infinity))
      .filter((entry) => entry.id < (before ?? Infinity))
      .reverse();
    return structuredClone(found.slice(0, limit));
  }
}
