/** The files of a server without a disk: where a `use` may lead, and what is asked of the client. */
import { expect, test } from 'vitest'
import type { Connection } from 'vscode-languageserver/node'
import { addressNaming, browserHost, join } from '../../../server/lsp/browser_host.ts'

function host() {
  const asked: string[] = []
  let bring: (p: { uri: string; text: string | null }) => void = () => {}
  const connection = {
    onNotification: (_: string, handler: typeof bring) => {
      bring = handler
    },
    sendNotification: async (_: string, { uri }: { uri: string }) => void asked.push(uri),
  } as unknown as Connection
  const made = browserHost(connection, () => {})
  made.setFolders(['vscode-vfs://host/jobs'])
  return { host: made, asked, bring: (uri: string, text: string | null) => bring({ uri, text }) }
}
const JOB = 'vscode-vfs://host/jobs/harbour/dock.door'

test('a path is relative to the file it stands in', () => {
  expect(join(JOB, 'stock/house.door')).toBe('vscode-vfs://host/jobs/harbour/stock/house.door')
  expect(join(JOB, '../stock/./house.door')).toBe('vscode-vfs://host/jobs/stock/house.door')
  expect(join('untitled:Untitled-1', 'house.door')).toBeUndefined()
})

test.each(['../../house.door', '../../../../house.door', '../../jobs2/house.door'])(
  '%s leaves the workspace and is refused',
  path => {
    const target = host().host.resolve(JOB, path)
    expect(target).toMatchObject({ ok: false, outside: true })
  },
)

test.each(['/house.door', 'https://example.org/house.door', 'file:///house.door'])('%s is no relative path', path => {
  expect(host().host.resolve(JOB, path)).toMatchObject({ ok: false, outside: true })
})

test.each(['', ' ', 'house.txt', 'stock\\house.door'])('"%s" names no job file', path => {
  const target = host().host.resolve(JOB, path)
  expect(target).toMatchObject({ ok: false, outside: false })
})

test('a file is asked for once, and there as soon as the client has brought it', () => {
  const { host: h, asked, bring } = host()
  const target = h.resolve(JOB, '../stock/our house.door')
  expect(target.ok).toBe(true)
  const file = target.ok ? target.file : ''
  expect(h.read(file)).toBeUndefined()
  expect(h.read(file)).toBeUndefined()
  expect(asked).toEqual(['vscode-vfs://host/jobs/stock/our%20house.door'])
  bring('vscode-vfs://host/jobs/stock/our%20house.door', 'slat flat_20 { }')
  expect(h.read(file)).toBe('slat flat_20 { }')
  expect(h.usePaths!(JOB)).toEqual(['../stock/our house.door'])
  // It went: nothing is left of it, and nobody asks again.
  bring('vscode-vfs://host/jobs/stock/our%20house.door', null)
  expect(h.read(file)).toBeUndefined()
  expect(h.usePaths!(JOB)).toEqual([])
  expect(asked).toHaveLength(1)
})

test('an address has one name, however much of it is escaped', () => {
  expect(addressNaming.name('vscode-vfs://host/a%2Db%20c.door')).toBe(
    addressNaming.name('vscode-vfs://host/a-b%20c.door'),
  )
  expect(addressNaming.uri(addressNaming.name('vscode-vfs://host/a%20%23b.door'))).toBe(
    'vscode-vfs://host/a%20%23b.door',
  )
  expect(addressNaming.name('untitled:Untitled-1')).toBe('untitled:Untitled-1')
  expect(addressNaming.name('no address %')).toBe('no address %')
})
