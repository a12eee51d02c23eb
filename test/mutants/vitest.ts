/**
 * As much of vitest as the tests of the mutated rooms use, with its own `expect`: the tests are collected once and then
 * run, for thousands of mutants, without loading anything again.
 */
import { chai, GLOBAL_EXPECT, JestAsymmetricMatchers, JestChaiExpect, JestExtend, setState } from '@vitest/expect'

export interface Test {
  readonly id: string
  readonly file: string
  readonly run: () => unknown
}

export const tests: Test[] = []

const taken = new Map<string, number>()
let current = ''
let around: readonly string[] = []

/** What is collected from here on stands in this file. */
export function file(path: string): void {
  current = path
}

function add(name: string, run: () => unknown): void {
  const plain = [current.slice(current.indexOf('test/')), ...around, name].join(' > ')
  const count = (taken.get(plain) ?? 0) + 1
  taken.set(plain, count)
  tests.push({ id: count === 1 ? plain : `${plain} (${count})`, file: current, run })
}

function group(name: string, body: () => void): void {
  const outside = around
  around = [...outside, name]
  body()
  around = outside
}

/** Rows as vitest has them: of a row that is a list, each item is an argument. */
const each =
  <F extends (name: string, body: never) => void>(add: F) =>
  (rows: readonly unknown[]) =>
  (name: string, body: (...args: unknown[]) => unknown): void => {
    for (const [i, row] of rows.entries())
      add(`${name} [${i}]`, (() => body(...(Array.isArray(row) ? row : [row]))) as never)
  }

export const it = Object.assign(add, { each: each(add) })
export const test = it
export const describe = Object.assign(group, { each: each(group) })

chai.use(JestExtend)
chai.use(JestChaiExpect)
chai.use(JestAsymmetricMatchers)
export const expect = Object.assign((value: unknown, message?: string) => chai.expect(value, message), chai.expect)
Object.defineProperty(globalThis, GLOBAL_EXPECT, { value: expect, configurable: true })
setState({}, expect as never)
