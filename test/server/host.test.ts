/** Where a `use` may lead on a disk, and how a file becomes text. */
import { mkdirSync, symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { decode, nodeHost, readText } from '../../server/host.ts'
import { folderOf } from './cli/call.ts'

describe('resolve', () => {
  const outside = (r: ReturnType<ReturnType<typeof nodeHost>['resolve']>) =>
    r.ok ? r.file : r.outside ? 'outside' : r.message

  it('goes by the file that the `use` stands in, up to the nearest folder with a project file or .git', () => {
    const folder = folderOf({ 'jobs/a.door': '', 'stock/house.door': '' })
    const host = nodeHost()
    const from = join(folder, 'jobs/a.door')
    expect(host.resolve(from, '../stock/house.door')).toEqual({ ok: true, file: join(folder, 'stock/house.door') })
    expect(host.resolve(from, './b.door')).toEqual({ ok: true, file: join(folder, 'jobs/b.door') })
    expect(outside(host.resolve(from, '../../x.door'))).toBe('outside')
    mkdirSync(join(folder, 'jobs/.git'))
    expect(outside(host.resolve(from, '../stock/house.door'))).not.toBe('outside')
    host.forget()
    expect(outside(host.resolve(from, '../stock/house.door'))).toBe('outside')
    expect(host.rootOf(from)).toBe(join(folder, 'jobs'))
  })

  it('a given root wins for files in it', () => {
    const folder = folderOf({ 'inner/doorwright.json': '{}', 'inner/a.door': '', 'b.door': '' })
    expect(outside(nodeHost().resolve(join(folder, 'inner/a.door'), '../b.door'))).toBe('outside')
    expect(nodeHost({ workspaceRoot: folder }).resolve(join(folder, 'inner/a.door'), '../b.door').ok).toBe(true)
  })

  it.each([
    ['/etc/house.door', 'starts at the top of a disk'],
    ['C:/stock/house.door', 'starts at the top of a disk'],
    ['\\\\server\\house.door', 'starts at the top of a disk'],
    ['stock\\house.door', 'Write / between folders: "stock/house.door".'],
    ['https://example.org/house.door', 'is an address'],
    ['house.txt', 'does not end in .door'],
    ['', 'needs the path of a .door file'],
    ['a\u0000.door', 'control character'],
    ['folder.door', 'is a folder'],
  ])('refuses %j and says why', (path, why) => {
    const folder = folderOf({ 'a.door': '', 'folder.door/in.door': '' })
    const r = nodeHost().resolve(join(folder, 'a.door'), path)
    expect(r.ok ? '' : r.message).toContain(why)
  })

  it('no link leads out, be it a file or a folder on the way; one within is its target', () => {
    const elsewhere = folderOf({ 'far.door': '' })
    const folder = folderOf({ 'a.door': '', 'stock/house.door': '' })
    symlinkSync(join(elsewhere, 'far.door'), join(folder, 'far.door'))
    symlinkSync(elsewhere, join(folder, 'linked'))
    symlinkSync('stock', join(folder, 'shelf'))
    symlinkSync('.', join(folder, 'here'))
    const host = nodeHost()
    const from = join(folder, 'a.door')
    expect(outside(host.resolve(from, 'far.door'))).toBe('outside')
    expect(outside(host.resolve(from, 'linked/far.door'))).toBe('outside')
    expect(outside(host.resolve(from, 'linked/not_there.door'))).toBe('outside')
    expect(host.resolve(from, 'shelf/house.door')).toEqual({ ok: true, file: join(folder, 'stock/house.door') })
    // one file has one name, however far round one goes
    expect(host.resolve(from, 'here/here/here/a.door')).toEqual({ ok: true, file: from })
  })

  it('a file that turns out not to be text is refused by name', () => {
    const folder = folderOf({ 'a.door': '', 'house.door': new Uint8Array([0xff, 0xfe, 0x61, 0]) })
    const host = nodeHost()
    const target = host.resolve(join(folder, 'a.door'), 'house.door')
    expect(target.ok && host.read(target.file)).toBeUndefined()
    const again = host.resolve(join(folder, 'a.door'), 'house.door')
    expect(again.ok ? '' : again.message).toBe('"house.door" cannot be used: it is UTF-16 text; save it as UTF-8.')
  })

  it('a document that is not saved has the workspace, or nothing', () => {
    const folder = folderOf({ 'house.door': '' })
    expect(nodeHost({ workspaceRoot: folder }).resolve('untitled:Untitled-1', 'house.door')).toEqual({
      ok: true,
      file: join(folder, 'house.door'),
    })
    const r = nodeHost().resolve('untitled:Untitled-1', 'house.door')
    expect(r.ok ? '' : r.message).toContain('Save this file first')
  })
})

describe('text', () => {
  it('is UTF-8, with or without a byte order mark', () => {
    expect(decode(Buffer.from('冷 ½'))).toEqual({ ok: true, text: '冷 ½', mark: false })
    expect(decode(Buffer.from('\ufeffa'))).toEqual({ ok: true, text: 'a', mark: true })
  })

  it('of what is none there is a reason', () => {
    const folder = folderOf({})
    expect(readText(folder)).toEqual({ ok: false, reason: 'is a folder' })
    expect(readText(join(folder, 'gone.door'))).toEqual({ ok: false, reason: 'cannot be found' })
    expect(readText(join(folder, 'doorwright.json/x.door'))).toEqual({
      ok: false,
      reason: 'lies below something that is not a folder',
    })
  })
})
