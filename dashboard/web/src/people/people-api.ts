import type {
  AuditPage,
  ChangedPerson,
  Me,
  NewPerson,
  Person,
} from '../../../../shared/protocol/http-people.ts';
import { get, query, send } from '../parts/api.ts';

export const fetchMe = () => get<Me>('/me');
export const signIn = (person: number, pin: string) => send<Me>('POST', '/me', { person, pin });
export const signOut = () => send<Me>('DELETE', '/me');
export const people = () => get<Person[]>('/people');
export const addPerson = (person: NewPerson) => send<Person>('POST', '/people', person);
export const changePerson = (id: number, change: ChangedPerson) =>
  send<Person>('PUT', `/people/${id}`, change);

export interface AuditFilter {
  area: string | null;
  person: number | null;
  from: string | null;
  to: string | null;
}
export const auditPage = (of: AuditFilter, before: number | null) =>
  get<AuditPage>(`/audit${query({ ...of, before, limit: 50 })}`);
export const auditCsv = (of: AuditFilter) => `/api/v1/audit.csv${query({ ...of })}`;
