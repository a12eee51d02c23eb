/** An answer that never came is told apart from the answer that there is nothing. */
import { expect, test } from 'vitest'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { serverOf } from '../../client/server.ts'
import { NO_ANSWER, whyNothing } from '../../client/state.ts'

const asking = (isRunning: boolean, sendRequest: () => Promise<unknown>) =>
  serverOf({ isRunning: () => isRunning, sendRequest } as unknown as BaseLanguageClient).preview({
    uri: 'file:///a.door',
  })

test('only a server that says so has no opening', async () => {
  const nothing = await asking(true, async () => null)
  expect(whyNothing(nothing as null, 'a.door')).toBe('a.door has no opening yet.')
  const none = async () => Promise.reject(new Error('it is gone'))
  for (const silent of [await asking(false, none), await asking(true, none)])
    expect(whyNothing(silent as undefined, 'a.door')).toBe(NO_ANSWER)
})
