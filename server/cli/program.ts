/** The commands, their options and their help. */
import { existsSync, statSync } from 'node:fs'
import { resolve } from 'node:path'
import { Command, CommanderError, Option } from 'commander'
import { version } from '../../package.json'
import { ASSISTS, LISTED } from '../service.ts'
import { type BaselineOptions, baseline } from './commands/baseline.ts'
import { type CheckOptions, check } from './commands/check.ts'
import { type CompareOptions, compare } from './commands/compare.ts'
import { type DeriveOptions, derive } from './commands/derive.ts'
import { type FmtOptions, fmt } from './commands/fmt.ts'
import { type LspOptions, lsp } from './commands/lsp.ts'
import { type RulesOptions, rules } from './commands/rules.ts'
import { type SheetOptions, sheet } from './commands/sheet.ts'
import { type SizeOptions, size } from './commands/size.ts'
import { say } from './files.ts'
import { CallError, type Io } from './io.ts'
import { wrap } from './width.ts'

const STATUS = `Exit status: 0 nothing above the threshold, 1 findings, 2 the call or a file could not be used.`
const FILES = 'files, folders (every .door file below), or - for standard input; without any: this folder'

/** Runs one call. @returns the exit status; undefined where the language server goes on running */
export async function run(args: readonly string[], io: Io): Promise<number | undefined> {
  let status: number | undefined = 0
  const program = build(io, s => {
    status = s
  })
  try {
    if (args.length === 0) {
      io.err(program.helpInformation())
      return 2
    }
    await program.parseAsync(args, { from: 'user' })
    return status
  } catch (error) {
    io.progress(undefined)
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2
    if (error instanceof CallError) say(io, error.message)
    else {
      say(
        io,
        `a fault of doorwright itself: ${error instanceof Error ? error.message : String(error)}. Please report it. DOORWRIGHT_TRACE=1 shows where.`,
      )
      if (process.env.DOORWRIGHT_TRACE && error instanceof Error) io.err(`${error.stack}\n`)
    }
    return 2
  }
}

function build(io: Io, done: (status: number | undefined) => void): Command {
  const program = new Command('doorwright')
  const footer = `\n${[STATUS, ...wrap(`${ASSISTS} ${LISTED}`, 80)].join('\n')}\n`
  program
    .description('Checks and works out coiling (rolling) service doors written in .door files.')
    .version(version, '-v, --version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .helpCommand('help [COMMAND]', 'show help for a command')
    .usage('COMMAND [FILES or FOLDERS or -] [OPTIONS]')
    .exitOverride()
    .showSuggestionAfterError()
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      outputError: (text, write) => write(inOurWords(text, io.cwd)),
    })
    .addHelpText('afterAll', footer)
  const stdinPath = (): Option =>
    new Option('--stdin-path <name>', 'the file that standard input stands for: `use` is relative to it')
  const units = (): Option =>
    new Option('--units <system>', 'show values in imperial or metric units, whatever the job says')
  const config = (): Option =>
    new Option(
      '--config <file>',
      'the project file, in place of the nearest doorwright.json above each file',
    ).argParser((name: string) => projectFile(name, io.cwd))
  const reports = (): Option =>
    new Option(
      '--format <name>',
      'pretty, json, sarif, github or junit; NAME=FILE writes it into a file. Several at once: --format pretty --format sarif=out.sarif',
    ).argParser((text: string, before?: readonly string[]) => [...(before ?? []), text])
  const format = (choices: string): Option => new Option('--format <name>', choices).default('pretty')

  program
    .command('check')
    .argument('[files...]', FILES)
    .description('Report every finding, with the limit and where it comes from.')
    .addOption(reports())
    .option('--fix', 'apply the safe fixes; with - the fixed text goes to standard output')
    .option('--quiet', 'report errors only')
    .option(
      '--max-warnings <n>',
      'more warnings than this in one run (with --shard: in its part) are exit status 1; without it the max_warnings of each project file, for its own files',
    )
    .addOption(units())
    .addOption(config())
    .option('--baseline <file>', 'findings that this file knows do not count; `baseline` writes it')
    .option(
      '--shard <i/n>',
      'look at the i-th of n parts only, such as 2/4: n runs together look at everything once, and each counts its own part',
    )
    .option('--jobs <n>', 'threads to work with; without it as many as are worth it')
    .option(
      '--cache [file]',
      'keep what was found, and look only at files that changed; after the files, or as --cache=FILE. Without a name: .doorwright-cache.jsonl beside doorwright.json',
    )
    .option('--print-config', 'show which settings are in force, and where each comes from')
    .addOption(stdinPath())
    .action(async (files: string[], o: CheckOptions) => done(await check(files, o, io)))

  program
    .command('baseline')
    .argument('[files...]', FILES)
    .description("Record today's findings, so that check --baseline reports only new ones.")
    .option('-o, --output <file>', 'the file to write; without it, or with -, standard output')
    .addOption(config())
    .addOption(stdinPath())
    .action(async (files: string[], o: BaselineOptions) => done(await baseline(files, o, io)))

  program
    .command('fmt')
    .argument('[files...]', FILES)
    .description('Lay files out, in place; print the names of those that changed.')
    .option('--check', 'change nothing; print the names of those that would change, exit status 1')
    .addOption(config())
    .addOption(stdinPath())
    .action(async (files: string[], o: FmtOptions) => done(await fmt(files, o, io)))

  program
    .command('derive')
    .argument('[files...]', FILES)
    .description('Print every value of every opening: written, derived, by default, from stock.')
    .option('--opening <mark>', 'only this opening')
    .option('--explain <name>', 'how one value came about: formula, numbers put in, source (drum.turns)')
    .addOption(format('pretty, or json for other programs'))
    .addOption(units())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (files: string[], o: DeriveOptions) => done(await derive(files, o, io)))

  program
    .command('size')
    .argument('[files...]', FILES)
    .description('Propose springs (and a pipe) that balance an opening, best first.')
    .option('--opening <mark>', 'only this opening')
    .option('--most <n>', 'at most so many proposals', '3')
    .option('--write <n>', 'write the n-th proposal into the job; with - the text goes to standard output')
    .addOption(format('pretty, or json for other programs'))
    .addOption(config())
    .addOption(stdinPath())
    .action(async (files: string[], o: SizeOptions) => done(await size(files, o, io)))

  program
    .command('sheet')
    .argument('[files...]', FILES)
    .description(
      'Make the printable field sheet of every job: one HTML file each. Exit status 1 where errors are open.',
    )
    .option('-o, --output <where>', 'the folder for the sheets, or the file for a single one; - for standard output')
    .option('--pdf', 'print as PDF, through an installed Chromium or Chrome')
    .option('--paper <size>', 'a4 or letter; for a PDF by the units of the job where not given')
    .addOption(units())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (files: string[], o: SheetOptions) => done(await sheet(files, o, io, version)))

  program
    .command('compare')
    .argument('<old>', 'a file, a folder or a git revision (main, HEAD~2, main:jobs)')
    .argument('[new]', 'the same; without it, what a revision is compared with is the work tree')
    .description('Show what changed between two versions of a job: in values and findings, not in text.')
    .addOption(format('pretty, markdown for a pull request, or json for other programs'))
    .option(
      '--fail-on <what>',
      'new-errors: exit status 1 where there is an error that was not there before; without it no change is status 1',
    )
    .option('--baseline <file>', 'findings that this file has are told as known, and are not new; `baseline` writes it')
    .addOption(units())
    .addOption(config())
    .action(async (old: string, now: string | undefined, o: CompareOptions) => done(await compare(old, now, o, io)))

  program
    .command('rules')
    .argument('[rule]', 'the name of a rule, to have it explained')
    .description('List the rules, or explain one.')
    .addOption(format('pretty, or json for other programs'))
    .action((id: string | undefined, o: RulesOptions) => done(rules(id, o, io)))

  program
    .command('lsp')
    .description('Run the language server, for editors.')
    .option('--stdio', 'talk on standard input and output (the default)')
    .option('--node-ipc', 'talk on the channel of the Node program that started this one')
    .option('--socket <port>', 'talk on this port, where the editor listens')
    .action(async (o: LspOptions) => {
      await lsp(o)
      done(undefined)
    })
  return program
}

/** The name of a project file that may be one. @throws CallError */
function projectFile(name: string, cwd: string): string {
  if (statSync(resolve(cwd, name), { throwIfNoEntry: false })?.isDirectory())
    throw new CallError(`${name} is a folder. --config takes a project file, doorwright.json.`)
  if (name.endsWith('.door')) throw new CallError(`${name} is a job. --config takes a project file, doorwright.json.`)
  return name
}

/** Commander's own complaints in the words of the others; a file in the place of a command gets a hint. */
function inOurWords(text: string, cwd: string): string {
  const unknown = /^error: unknown command '(.*)'/.exec(text)?.[1]
  const hint =
    unknown !== undefined && (unknown === '-' || unknown.endsWith('.door') || existsSync(resolve(cwd, unknown)))
      ? `Write what to do with it first: doorwright check ${unknown}\n`
      : ''
  return `doorwright: ${text.replace(/^error: /, '')}${hint}`
}
