/** Inside the extension host: the remaining verbs, and what stands around the text. */
import assert from 'node:assert/strict'
import * as vscode from 'vscode'
import { find, inWorkspace, openJob, PRELOAD, replaceAll, rules, scenario, until } from './support.ts'

const run = vscode.commands.executeCommand
const tabs = (): string[] => vscode.window.tabGroups.all.flatMap(g => g.tabs.map(t => t.label))

scenario('a name leads to where it was written', async () => {
  const doc = await openJob()
  const found = await run<(vscode.Location | vscode.LocationLink)[]>(
    'vscode.executeDefinitionProvider',
    doc.uri,
    find(doc, 'flat_20', 2),
  )
  const uri = found[0] && ('uri' in found[0] ? found[0].uri : found[0].targetUri)
  assert.equal(uri?.path.endsWith('stock/house.door'), true, JSON.stringify(found))
})

scenario('blocks can be folded', async () => {
  const doc = await openJob()
  const folds = await run<vscode.FoldingRange[]>('vscode.executeFoldingRangeProvider', doc.uri)
  const { line } = find(doc, 'adjuster {')
  assert.ok(
    folds.some(f => f.start === line && f.end === line + 3),
    JSON.stringify(folds),
  )
})

scenario('a stretch of a file can be laid out by itself', async () => {
  const doc = await openJob()
  const before = doc.getText()
  await replaceAll(
    doc,
    before.replace('    side    = right', '  side=right').replace('    width    = 12ft', ' width=12ft'),
  )
  const { line } = find(doc, 'side=right')
  const edits = await run<vscode.TextEdit[]>(
    'vscode.executeFormatRangeProvider',
    doc.uri,
    new vscode.Range(line, 0, line + 1, 0),
    { tabSize: 2, insertSpaces: true },
  )
  assert.ok(edits?.length, 'nothing to lay out')
  assert.ok(
    edits.every(e => e.range.start.line > find(doc, 'drum {').line),
    'only the stretch that was asked for',
  )
  await replaceAll(doc, before)
})

scenario('every command can be called by its title, and none has a key of its own', async () => {
  const { contributes } = vscode.extensions.getExtension('doorwright.doorwright')!.packageJSON
  const known = await vscode.commands.getCommands(true)
  assert.ok(contributes.commands.length >= 8)
  for (const { command, title } of contributes.commands) {
    assert.ok(known.includes(command), command)
    assert.match(title, /^[A-Z]/)
  }
  assert.equal(contributes.keybindings, undefined)
})

scenario('the preview opens beside the text and leaves the cursor where it is', async () => {
  const doc = await openJob()
  const editor = await vscode.window.showTextDocument(doc, vscode.ViewColumn.One)
  const at = find(doc, 'holes')
  editor.selection = new vscode.Selection(at, at)
  await run('doorwright.preview')
  const seen = await until(tabs, t => t.includes('Preview of Dock 3'))
  assert.ok(seen.includes('Preview of Dock 3'), seen.join(', '))
  assert.equal(vscode.window.activeTextEditor?.document.uri.toString(), doc.uri.toString())
  // It goes with the cursor.
  const second = find(doc, 'survey')
  editor.selection = new vscode.Selection(second, second)
  const then = await until(tabs, t => t.includes('Preview of Dock 4'))
  assert.ok(then.includes('Preview of Dock 4'), then.join(', '))
})

scenario('the field sheet opens, and nothing is written', async () => {
  const doc = await openJob()
  const files = async (): Promise<string[]> => (await vscode.workspace.findFiles('**/*')).map(String).sort()
  const before = await files()
  await run('doorwright.sheet', doc.uri)
  const seen = await until(tabs, t => t.includes('Field sheet of dock.door'))
  assert.ok(seen.includes('Field sheet of dock.door'), seen.join(', '))
  assert.deepEqual(await files(), before)
})

scenario('`doorwright check` runs as a task, and its findings reach the Problems view', async () => {
  // A file that no editor holds open, with a preload that cannot be set.
  const uri = inWorkspace('second.door')
  const doc = await openJob()
  const text = doc
    .getText()
    .replace(/preload = .*/, 'preload = 1.7 turns')
    .replace(/HS-\d+/, 'HS-9001')
  await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text))
  const [task] = await vscode.tasks.fetchTasks({ type: 'doorwright' })
  assert.ok(task, 'no task is offered')
  const check = async (): Promise<void> => {
    const ended = new Promise<number | undefined>(resolve => {
      const listening = vscode.tasks.onDidEndTaskProcess(e => {
        listening.dispose()
        resolve(e.exitCode)
      })
    })
    await vscode.tasks.executeTask(task)
    assert.equal(await ended, 1, 'findings are exit status 1')
  }
  const problems = (): string[] =>
    vscode.languages
      .getDiagnostics(uri)
      .map(
        d => `${d.source} ${typeof d.code === 'object' ? d.code.value : d.code} ${d.range.start.line + 1} ${d.message}`,
      )
  const line = text.split('\n').findIndex(l => l.includes('1.7 turns')) + 1
  const wanted = (p: string[]): boolean =>
    p.some(x => x.startsWith(`doorwright check preload_increment ${line} A preload of 1.7 turns is 13.6 increments`))
  try {
    await check()
    assert.ok(wanted(await until(problems, wanted)), problems().join(' | '))
  } finally {
    await vscode.workspace.fs.delete(uri)
  }
})

scenario('springs that are chosen are written as one edit, which one undo takes back', async () => {
  const doc = await openJob()
  await vscode.window.showTextDocument(doc, vscode.ViewColumn.One)
  const before = doc.getText()
  const sizing = run('doorwright.sizeSprings', doc.uri, 'Dock 3')
  // The list is there once the first row can be taken; until then this does nothing.
  const chosen = await until(
    async () => {
      await run('workbench.action.acceptSelectedQuickOpenItem')
      return doc.getText()
    },
    t => t !== before,
    15_000,
  )
  await sizing
  assert.notEqual(chosen, before)
  assert.match(chosen, /spring (like \w+ )?\{/)
  assert.match(chosen, /preload = [\d /]+ turns?/)
  assert.ok(
    !(
      await until(
        () => rules(doc),
        r => !r.includes(PRELOAD),
      )
    ).includes(PRELOAD),
  )
  await vscode.window.showTextDocument(doc, vscode.ViewColumn.One)
  await run('undo')
  assert.equal(
    await until(
      () => doc.getText(),
      t => t === before,
    ),
    before,
  )
})
