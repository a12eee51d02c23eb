/** Puts a new text in a file's place in one step: whoever reads meanwhile sees the old one or the new one, whole. */
import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { inWords, readText } from '../host.ts'
import type { InputFile } from './files.ts'
import { CallError } from './io.ts'

/** Writes `text` where it differs from what was read. @returns whether it was written @throws CallError in words */
export function writeChanged(input: InputFile, text: string): boolean {
  if (text === input.text) return false
  try {
    const now = readText(input.file)
    if (!now.ok || now.text !== input.text)
      throw new CallError(`${input.name} was changed by somebody else meanwhile. It was left as it is; run again.`)
    // A link stays a link: what it leads to is written.
    replace(realpathSync(input.file), input.mark ? `\ufeff${text}` : text)
    return true
  } catch (error) {
    if (error instanceof CallError) throw error
    throw new CallError(`${input.name} could not be written: it ${inWords(error)}.`)
  }
}

/** Writes what was asked for into a file, whether it is there or not. @param name how it is called towards the user @throws CallError in words */
export function writeNew(path: string, name: string, text: string | Iterable<string>): void {
  const file = newFile(path, name)
  for (const part of typeof text === 'string' ? [text] : text) file.write(part)
  file.done()
}

/** A file that is written part by part, so that nobody has to hold all of it. */
export interface NewFile {
  /** @throws CallError in words, as `done` does; the file is then as it was */
  write(text: string): void
  /** What was written takes the file's place. */
  done(): void
}

/** @param name how it is called towards the user */
export function newFile(path: string, name: string): NewFile {
  let into: Replacement | undefined
  const told = (work: () => void): void => {
    try {
      work()
    } catch (error) {
      into?.giveUp()
      throw new CallError(`${name} could not be written: it ${inWords(error)}.`)
    }
  }
  const begun = (): Replacement => {
    const there = statSync(path, { throwIfNoEntry: false })
    // a pipe or a device is written to, never replaced
    if (there && !there.isFile()) return straight(path)
    return replacement(there ? realpathSync(path) : path)
  }
  return {
    write: text => told(() => (into ??= begun()).write(text)),
    done: () => told(() => (into ??= begun()).done()),
  }
}

interface Replacement extends NewFile {
  giveUp(): void
}

function straight(path: string): Replacement {
  const handle = openSync(path, 'w')
  return { write: text => writeAll(handle, text), done: () => closeSync(handle), giveUp: () => closeSync(handle) }
}

function replace(file: string, text: string): void {
  const into = replacement(file)
  try {
    into.write(text)
    into.done()
  } catch (error) {
    into.giveUp()
    throw error
  }
}

function replacement(file: string): Replacement {
  const beside = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`)
  const handle = openSync(beside, 'wx', existsSync(file) ? statSync(file).mode : 0o666)
  let open = true
  const close = (): void => {
    if (open) closeSync(handle)
    open = false
  }
  const giveUp = (): void => {
    process.off('exit', giveUp)
    close()
    rmSync(beside, { force: true })
  }
  // a run that ends before its end leaves nothing behind
  process.on('exit', giveUp)
  return {
    write: text => writeAll(handle, text),
    done() {
      fsyncSync(handle)
      close()
      renameSync(beside, file)
      process.off('exit', giveUp)
    },
    giveUp,
  }
}

function writeAll(handle: number, text: string): void {
  const bytes = Buffer.from(text)
  for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at)
}
