/** Inside the extension host: names, values and looks through the editor's own commands, and files that move or go. */
import assert from 'node:assert/strict'
import * as vscode from 'vscode'
import { find, inWorkspace, openJob, replaceAll, rules, scenario, until } from './support.ts'

const run = vscode.commands.executeCommand
const FORMAT = { tabSize: 2, insertSpaces: true }

/** A second job on the same stock. */
const GATE = `use "stock/house.door"

## Room at both jambs
let clear = 1in

job "HS-2209" {
  units = imperial
}

opening "Gate 1" {
  width  = 10ft
  height = max(width, 9ft)
  rails {
    between = width + clear
  }
  curtain {
    slat = flat_20
  }
}
`
const STOCK = 'stock/house.door'

/** With the second job in the workspace while `work` goes on; afterwards all files are as they were. */
async function withGate(work: (gate: vscode.TextDocument, dock: vscode.TextDocument) => Promise<void>): Promise<void> {
  const uri = inWorkspace('gate.door')
  await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(GATE))
  const dock = await openJob()
  const stock = await vscode.workspace.openTextDocument(inWorkspace(STOCK))
  const before = [dock, stock].map(d => [d, d.getText()] as const)
  try {
    await work(await vscode.workspace.openTextDocument(uri), dock)
  } finally {
    for (const [doc, text] of before) if (doc.getText() !== text) await replaceAll(doc, text)
    const gone = new vscode.WorkspaceEdit()
    gone.deleteFile(uri, { ignoreIfNotExists: true })
    await vscode.workspace.applyEdit(gone)
  }
}

const where = (l: vscode.Location | vscode.LocationLink): { uri: vscode.Uri; range: vscode.Range } =>
  'uri' in l ? l : { uri: l.targetUri, range: l.targetSelectionRange ?? l.targetRange }
/** `dock.door: flat_20`, sorted: the file and what stands there. */
async function read(locations: readonly (vscode.Location | vscode.LocationLink)[]): Promise<string[]> {
  const texts = locations.map(where).map(async ({ uri, range }) => {
    const doc = await vscode.workspace.openTextDocument(uri)
    return `${vscode.workspace.asRelativePath(uri)}: ${doc.getText(range)}`
  })
  return (await Promise.all(texts)).sort()
}
const textOf = async (path: string): Promise<string> =>
  (await vscode.workspace.openTextDocument(inWorkspace(path))).getText()
/** The text once it is as wanted, or the last that was seen. */
const becomes = (doc: vscode.TextDocument, text: string): Promise<string> =>
  until(
    () => doc.getText(),
    t => t === text,
  )

scenario('a line above each opening says how it stands, and its parts are commands', () =>
  withGate(async (_, dock) => {
    const lenses = async (): Promise<vscode.CodeLens[]> => run('vscode.executeCodeLensProvider', dock.uri)
    const seen = await lenses()
    const at = find(dock, 'opening "Dock 4"').line
    const own = seen.filter(l => l.range.start.line === at).map(l => l.command!)
    assert.match(own[0]!.title, /^out of balance by [\d.]+ lbf\*in, 1 error, 1 note$/)
    assert.deepEqual(
      own.slice(1).map(c => c.title),
      ['Preview', 'Size springs', 'Field sheet'],
    )
    await run(own[1]!.command, ...own[1]!.arguments!)
    const tabs = (): string[] => vscode.window.tabGroups.all.flatMap(g => g.tabs.map(t => t.label))
    assert.ok((await until(tabs, t => t.includes('Preview of Dock 4'))).includes('Preview of Dock 4'))
    // Whoever does not want the lines switches them off.
    const settings = (): vscode.WorkspaceConfiguration => vscode.workspace.getConfiguration('doorwright')
    await settings().update('codeLens', false, vscode.ConfigurationTarget.Workspace)
    try {
      assert.deepEqual(await until(lenses, l => l.length === 0), [])
    } finally {
      await settings().update('codeLens', undefined, vscode.ConfigurationTarget.Workspace)
    }
    assert.equal((await until(lenses, l => l.length > 0)).length, seen.length)
  }),
)

scenario('words are coloured by what they mean', () =>
  withGate(async gate => {
    const legend = await run<vscode.SemanticTokensLegend>('vscode.provideDocumentSemanticTokensLegend', gate.uri)
    const decoded = ({ data }: vscode.SemanticTokens): string[] => {
      const out: string[] = []
      let at = new vscode.Position(0, 0)
      for (let i = 0; i < data.length; i += 5) {
        const [lines, characters, length, type, bits] = data.subarray(i, i + 5)
        at = new vscode.Position(at.line + lines!, (lines ? 0 : at.character) + characters!)
        const kinds = [legend.tokenTypes[type!], ...legend.tokenModifiers.filter((_, bit) => (bits! >> bit) & 1)]
        out.push(`${gate.getText(new vscode.Range(at, at.translate(0, length!)))} ${kinds.join('.')}`)
      }
      return out
    }
    const whole = decoded(await run('vscode.provideDocumentSemanticTokens', gate.uri))
    for (const word of [
      'use keyword',
      '## Room at both jambs comment.documentation',
      'clear variable.declaration.readonly',
      'opening class',
      '"Gate 1" string.declaration',
      'max function.defaultLibrary',
      'clear variable.readonly',
      'flat_20 namespace',
      'imperial enumMember',
    ])
      assert.ok(whole.includes(word), `no "${word}" in ${whole.join(', ')}`)
    const { line } = find(gate, 'height =')
    const part = decoded(
      await run('vscode.provideDocumentRangeSemanticTokens', gate.uri, new vscode.Range(line, 0, line + 1, 0)),
    )
    assert.ok(part.includes('max function.defaultLibrary'), part.join(', '))
    assert.ok(!part.includes('use keyword'), 'only the part that was asked for')
  }),
)

scenario('a name is found wherever it stands, in files that nobody opened too', () =>
  withGate(async (gate, dock) => {
    const found = await run<vscode.Location[]>('vscode.executeReferenceProvider', dock.uri, find(dock, 'flat_20', 2))
    assert.deepEqual(await read(found), ['dock.door: flat_20', 'gate.door: flat_20', `${STOCK}: flat_20`])
    const lit = await run<vscode.DocumentHighlight[]>(
      'vscode.executeDocumentHighlights',
      gate.uri,
      find(gate, 'clear', 1),
    )
    assert.deepEqual(
      lit.map(h => [h.range.start.line, h.kind]),
      [
        [find(gate, 'let clear').line, vscode.DocumentHighlightKind.Write],
        [find(gate, '+ clear').line, vscode.DocumentHighlightKind.Read],
      ],
    )
  }),
)

scenario('another name is written in all files, and one undo takes it back in all', () =>
  withGate(async (gate, dock) => {
    const stock = await vscode.workspace.openTextDocument(inWorkspace(STOCK))
    const all = [dock, gate, stock]
    const before = all.map(d => d.getText())
    const after = before.map(t => t.replaceAll('flat_20', 'flat_21'))
    const at = find(dock, 'flat_20', 2)
    const asked = await run<{ range: vscode.Range; placeholder: string }>('vscode.prepareRename', dock.uri, at)
    assert.deepEqual([dock.getText(asked.range), asked.placeholder], ['flat_20', 'flat_20'])
    await assert.rejects(
      async () => run('vscode.prepareRename', dock.uri, find(dock, 'headroom', 2)),
      /`headroom` is a word of the language and cannot be renamed/,
    )
    const rename = (name: string): Thenable<vscode.WorkspaceEdit> =>
      run('vscode.executeDocumentRenameProvider', dock.uri, at, name)
    await assert.rejects(async () => rename('let'), /reserved word/)
    assert.ok(await vscode.workspace.applyEdit(await rename('flat_21')))
    assert.deepEqual(
      all.map(d => d.getText()),
      after,
    )
    await vscode.window.showTextDocument(dock, vscode.ViewColumn.One)
    await run('undo')
    for (const [i, doc] of all.entries()) assert.equal(await becomes(doc, before[i]!), before[i], doc.fileName)
  }),
)

scenario('names are found from anywhere in the workspace', () =>
  withGate(async () => {
    const search = async (query: string): Promise<string[]> => {
      const found = await run<vscode.SymbolInformation[]>('vscode.executeWorkspaceSymbolProvider', query)
      return found.map(s => `${s.name} ${vscode.SymbolKind[s.kind]} ${s.containerName}`)
    }
    const gates = await until(
      () => search('Gate'),
      s => s.length > 0,
    )
    assert.deepEqual(gates, ['Gate 1 Class gate.door'])
    assert.deepEqual(await search('flat'), ['flat_20 Constant house.door'])
  }),
)

scenario('from a value to what reads it, and to what it reads', () =>
  withGate(async gate => {
    const prepare = async (text: string): Promise<vscode.CallHierarchyItem> =>
      (await run<vscode.CallHierarchyItem[]>('vscode.prepareCallHierarchy', gate.uri, find(gate, text, 1)))[0]!
    const width = await prepare('width  =')
    assert.deepEqual([width.name, width.detail], ['opening.width', '10 ft · Gate 1'])
    const users = await run<vscode.CallHierarchyIncomingCall[]>('vscode.provideIncomingCalls', width)
    const between = users.find(u => u.from.name === 'rails.between')!
    // 10 ft and the 1 in of `clear`
    assert.equal(between.from.detail, '10 ft 1 in · Gate 1')
    assert.deepEqual(
      between.fromRanges.map(r => r.start),
      [find(gate, 'width + clear')],
    )
    assert.ok(
      users.some(u => u.from.name === 'opening.area'),
      'and what is worked out',
    )
    const feeds = await run<vscode.CallHierarchyOutgoingCall[]>(
      'vscode.provideOutgoingCalls',
      await prepare('between ='),
    )
    assert.deepEqual(
      feeds.map(f => [f.to.name, f.fromRanges[0]?.start]),
      [['opening.width', find(gate, 'width + clear')]],
    )
  }),
)

scenario('within the brackets of a function its form is shown', () =>
  withGate(async gate => {
    const ask = (text: string): Thenable<vscode.SignatureHelp | undefined> =>
      run('vscode.executeSignatureHelpProvider', gate.uri, find(gate, text, 1))
    const help = await ask('9ft)')
    assert.equal(help?.signatures[0]?.label, 'max(a, b, ...)')
    assert.equal(help?.activeParameter, 1)
    assert.equal((await ask('(width'))?.activeParameter, 0)
    assert.equal(await ask('width + clear'), undefined)
  }),
)

scenario('a selection grows from the name to the sum, the line, the block', () =>
  withGate(async gate => {
    // What no editor shows may be put away while the answer is on its way.
    await vscode.window.showTextDocument(gate, vscode.ViewColumn.One)
    const [found] = await run<vscode.SelectionRange[]>('vscode.executeSelectionRangeProvider', gate.uri, [
      find(gate, 'width + clear', 1),
    ])
    const texts: string[] = []
    for (let s: vscode.SelectionRange | undefined = found; s; s = s.parent) texts.push(gate.getText(s.range))
    const grown = ['width', 'width + clear', 'between = width + clear', 'rails {\n    between = width + clear\n  }']
    assert.deepEqual(
      texts.filter(t => grown.includes(t)),
      grown,
    )
    assert.equal(texts.at(-1), GATE)
  }),
)

scenario('`use` is a link, names lead to where they are made and to what they are made after', () =>
  withGate(async (gate, dock) => {
    const links = await run<vscode.DocumentLink[]>('vscode.executeLinkProvider', gate.uri)
    assert.deepEqual(
      links.map(l => [gate.getText(l.range), l.target?.toString()]),
      [[STOCK, inWorkspace(STOCK).toString()]],
    )
    const definition = (doc: vscode.TextDocument, text: string, inside: number): Thenable<vscode.Location[]> =>
      run('vscode.executeDefinitionProvider', doc.uri, find(doc, text, inside))
    assert.deepEqual(await read(await definition(gate, '+ clear', 3)), ['gate.door: clear'])
    assert.equal(where((await definition(gate, STOCK, 2))[0]!).uri.toString(), inWorkspace(STOCK).toString())
    // A value that is worked out leads to the fields that it comes from.
    assert.deepEqual(await read(await definition(dock, 'coil_diameter', 2)), [`${STOCK}: thickness`])
    const type = await run<vscode.Location[]>(
      'vscode.executeTypeDefinitionProvider',
      dock.uri,
      find(dock, '"Dock 4"', 2),
    )
    assert.deepEqual(await read(type), ['dock.door: opening "Dock 3"'])
  }),
)

scenario('a block is laid out when its brace closes it, a line when it is left', () =>
  withGate(async gate => {
    const rough = GATE.replace('    between = width', ' between=width')
    const ask = (at: vscode.Position, typed: string): Thenable<vscode.TextEdit[] | undefined> =>
      run('vscode.executeFormatOnTypeProvider', gate.uri, at, typed, FORMAT)
    for (const [at, typed] of [
      [(): vscode.Position => find(gate, '  }\n  curtain', 3), '}'],
      [(): vscode.Position => find(gate, '  }\n  curtain'), '\n'],
    ] as const) {
      await replaceAll(gate, rough)
      const edits = new vscode.WorkspaceEdit()
      edits.set(gate.uri, (await ask(at(), typed)) ?? [])
      assert.ok(await vscode.workspace.applyEdit(edits))
      assert.match(gate.getText(), /\n {4}between = width \+ clear\n/, JSON.stringify(typed))
    }
    await replaceAll(gate, GATE)
    assert.deepEqual((await ask(find(gate, '+ clear', 7), '}')) ?? [], [], 'nothing was closed here')
  }),
)

scenario('a block that is moved to the stock is one edit in two files, and nothing new is found', () =>
  withGate(async gate => {
    const own = GATE.replace(
      'slat = flat_20',
      'slat {\n      pitch = 3in\n      thickness = 0.7in\n      weight = 2 lb/ft^2\n    }',
    )
    await replaceAll(gate, own)
    const stock = await vscode.workspace.openTextDocument(inWorkspace(STOCK))
    const before = stock.getText()
    const at = find(gate, 'slat {', 1)
    const actions = await run<vscode.CodeAction[]>(
      'vscode.executeCodeActionProvider',
      gate.uri,
      new vscode.Range(at, at),
      vscode.CodeActionKind.RefactorExtract.value,
    )
    const move = actions.find(a => a.title.startsWith('Move to house.door'))
    assert.ok(move?.edit, actions.map(a => a.title).join(' | '))
    assert.equal(move.edit.size, 2)
    const found = rules(gate)
    assert.ok(await vscode.workspace.applyEdit(move.edit))
    assert.match(stock.getText(), /\nslat slat_gate_1 \{\n {2}pitch = 3in\n/)
    assert.match(gate.getText(), /\n {4}slat = slat_gate_1\n/)
    // The findings of both have been told again when the one that is broken on purpose is there.
    await replaceAll(gate, `${gate.getText()}\nlet late = nobody\n`)
    const now = await until(
      () => rules(gate),
      r => r.some(x => x.endsWith(' nobody')),
    )
    assert.deepEqual(
      now.filter(x => !x.endsWith(' nobody')),
      found,
    )
    assert.notEqual(stock.getText(), before)
  }),
)

scenario('`use` follows a file that is renamed, in every file that uses it', () =>
  withGate(async (gate, dock) => {
    const move = async (from: string, to: string): Promise<void> => {
      const edit = new vscode.WorkspaceEdit()
      edit.renameFile(inWorkspace(from), inWorkspace(to))
      assert.ok(await vscode.workspace.applyEdit(edit))
    }
    const uses = (path: string, doc: vscode.TextDocument): Promise<string> =>
      until(
        () => doc.getText(),
        t => t.includes(`use "${path}"`),
      )
    await move(STOCK, 'yard/slats.door')
    for (const doc of [gate, dock]) assert.match(await uses('yard/slats.door', doc), /use "yard\/slats\.door"\n/)
    const lost = await until(
      () => rules(dock),
      r => !/use_failed|flat_20/.test(r.join()),
    )
    assert.doesNotMatch(lost.join(), /use_failed|flat_20/)
    assert.match(await textOf('yard/slats.door'), /^slat flat_20 \{/m)
    await move('yard/slats.door', STOCK)
    for (const doc of [gate, dock]) assert.match(await uses(STOCK, doc), /use "stock\/house\.door"\n/)
  }),
)

scenario('a file that is deleted takes its findings along; who used it is told', () =>
  withGate(async (gate, dock) => {
    await replaceAll(gate, GATE.replace('flat_20', 'flat_99'))
    const unknown = (r: string[]): boolean => r.includes('unknown_name flat_99')
    const said = (): string[] => rules(gate)
    assert.ok(unknown(await until(said, unknown)), said().join(', '))
    const edit = new vscode.WorkspaceEdit()
    edit.deleteFile(gate.uri)
    assert.ok(await vscode.workspace.applyEdit(edit))
    const left = (): vscode.Diagnostic[] => vscode.languages.getDiagnostics(inWorkspace('gate.door'))
    assert.deepEqual(await until(left, d => d.length === 0), [])

    // Not by the editor: as another program does. Each step is seen before the next is made.
    const spare = inWorkspace('stock/spare.door')
    const failed = (r: string[]): boolean => r.includes('use_failed "stock/spare.door"')
    const dockSaid = (): string[] => rules(dock)
    await replaceAll(dock, `use "stock/spare.door"\n${dock.getText()}`)
    assert.ok(failed(await until(dockSaid, failed)), dockSaid().join(', '))
    await vscode.workspace.fs.writeFile(spare, new TextEncoder().encode('slat flat_18 { pitch = 2in }\n'))
    assert.ok(!failed(await until(dockSaid, r => !failed(r))), dockSaid().join(', '))
    await vscode.workspace.fs.delete(spare)
    assert.ok(failed(await until(dockSaid, failed)), dockSaid().join(', '))
  }),
)
