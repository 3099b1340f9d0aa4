import type { AuditArea, Role } from '../../../shared/protocol/http-people.ts';
import type { Saying } from '../../../shared/protocol/judgement.ts';
import type { EpochMicros } from '../../../shared/units.ts';

export interface NewPersonRecord {
  name: string;
  role: Role;
  /** As `hashPin` made it. */
  pin: string;
}

export interface PersonRecord extends NewPersonRecord {
  id: number;
  disabled: boolean;
  /** PINs tried wrongly since the last right one. */
  wrong: number;
  /** No PIN is tried before then. */
  lockedUntilMs: number;
}

/** A device that was let in, or on which a person is signed in. */
export interface SessionRecord {
  /** SHA-256 of what the cookie holds: who reads the store has no session by it. */
  hash: string;
  /** Null: the access code was shown, no more. */
  person: number | null;
  endsMs: number;
}

/** People and their sessions; a person is never deleted. */
export interface PeopleStore {
  list(): PersonRecord[];
  one(id: number): PersonRecord | null;
  add(person: NewPersonRecord): PersonRecord;
  /** Puts all of a known person anew. */
  save(person: PersonRecord): void;
  /** Keeps the newest `most` that have not ended. */
  begin(session: SessionRecord, nowMs: number, most: number): void;
  session(hash: string, nowMs: number): SessionRecord | null;
  end(hash: string): void;
  endAllOf(person: number): void;
}

export interface NewAuditRecord {
  atUs: EpochMicros;
  person: { id: number; name: string } | null;
  /** Network address; null: this machine. */
  device: string | null;
  area: AuditArea;
  subject: string;
  says: string;
  /** Absent from what was written before sentences had names. */
  saying?: Saying;
  before: unknown;
  after: unknown;
}

export interface AuditRecord extends NewAuditRecord {
  id: number;
}

export interface AuditQuery {
  area?: AuditArea | undefined;
  person?: number | undefined;
  fromUs?: EpochMicros | undefined;
  toUs?: EpochMicros | undefined;
  /** Only entries older than this one. */
  before?: number | undefined;
  limit: number;
}

/** What was changed, in the order of its making; it only grows. */
export interface AuditStore {
  add(entry: NewAuditRecord): AuditRecord;
  /** Newest first. */
  list(query: AuditQuery): AuditRecord[];
}
