/** What a rule is, and what it is given to look at. */
import type { Door, Files, Finding, Fix, Place, Related, Severity, Single, Value } from '../model/index.ts'

export type Group =
  | 'Language'
  | 'Survey'
  | 'Rails and curtain'
  | 'Drum and springs'
  | 'Adjuster and balance'
  | 'Operator'
  | 'Rigging and hood'
  | 'Installed, delivery and handover'

export interface Report {
  /** What is wrong, by how much, and what to do. Plain sentences; numbers in the job's units. */
  readonly message: string
  /** A path (`drum.pipe`, `adjuster.preload`, a block's `spring[0]`) or a place; paths follow `like` and stock. */
  readonly at: string | Place
  /** The limit as words; the source is added from the rule (or says that the limit was set in the job). */
  readonly limit?: string
  /** The name in `limits` that decided, where the rule has several and this is not its `limit`. */
  readonly limitName?: string
  /** Other fields of the conflict, by path or place. */
  readonly related?: readonly { readonly at: string | Place; readonly message: string }[]
  /** Asked for only when somebody wants to see them. */
  readonly fixes?: () => readonly (Fix | undefined)[]
  /** Where it differs from the rule's severity. */
  readonly severity?: Severity
}

export interface Tools {
  /**
   * The rules that would have something new to say (a note too, or more severely than before), and `requirement` for a
   * `require` that would be broken, if these values were written: for deciding whether a fix is safe.
   */
  wouldBreak(overrides: Readonly<Record<string, Value>>): string[]
}

export interface Rule {
  /** File name, diagnostic code, page anchor and test name. */
  readonly id: string
  readonly group: Group
  readonly severity: Severity
  /** Cannot be allowed away. */
  readonly never?: boolean
  /** What it checks, in one sentence. */
  readonly what: string
  /** Why it matters. */
  readonly why: string
  /** What to do about it. */
  readonly todo: string
  /** The name in `limits`, where there is one. */
  readonly limit?: string
  /** Where the rule or its limit comes from. */
  readonly source: string
  /** What is printed with the finding where a number can hurt someone. */
  readonly caution?: 'spring' | 'curtain' | 'anchor' | 'power'
  /**
   * Examples that a test executes: whole files or, without `opening`/`job`/`use` at the top, what is put into an
   * otherwise right opening (field lines replace or add to it by block). The bad one gives this finding; the good one does not.
   */
  readonly bad: string
  readonly good: string
  /**
   * The block that it is about: a record of a later stage, the operator. Where that is not written in an opening, nor
   * copied into it, there is nothing to check, and `check` is not called.
   */
  readonly about?: 'survey' | 'delivery' | 'installed' | 'handover' | 'operator'
  /** Absent for rules of the Language group, whose findings the model makes. */
  readonly check?: (door: Door, report: (r: Report) => void, tools: Tools) => void
  /** For rules that look at top-level blocks too (limits of a file, stock). */
  readonly checkSingle?: (single: Single, report: (r: Report) => void, files: Files) => void
}

export const rule = (r: Rule): Rule => r
export type { Door, Files, Finding, Fix, Place, Related, Severity, Single }
