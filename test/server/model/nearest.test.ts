/** Which names are taken for a slip of another one, and in what order they are offered. */
import { expect, test } from 'vitest'
import { nearestNames } from '../../../server/model/index.ts'

test.each([
  // one letter in three may be another
  ['drum', ['drun'], ['drun']],
  ['drum', ['drab'], []],
  ['ab', ['ac'], ['ac']],
  ['ab', ['cd'], []],
  ['wid', ['wad'], ['wad']],
  ['wid', ['wax'], []],
  ['height', ['heig'], ['heig']],
  ['height', ['hei'], []],
  ['height', ['haight', 'hoight', 'heightxx'], ['haight', 'hoight', 'heightxx']],
  // two neighbours that changed places are one slip, wherever they stand
  ['hte', ['the'], ['the']],
  ['teh', ['the'], ['the']],
  ['hieght', ['height'], ['height']],
  ['drmu', ['drum'], ['drum']],
  ['rdum', ['drum'], ['drum']],
  ['mudr', ['drum'], []],
  ['abdc', ['abcd', 'abxc'], ['abcd', 'abxc']],
  ['acbx', ['abcd'], []],
  // large and small letters count as the same
  ['WIDTH', ['width'], ['width']],
  ['width', ['Widht'], ['Widht']],
  // the nearest first, then by the alphabet; no more than three, and none that is far behind
  ['windth', ['windt', 'width', 'depth'], ['width', 'windt']],
  ['aaaaaaaaa', ['aaaaaabbb', 'aaaaaaaab', 'aaaaaaabb'], ['aaaaaaaab', 'aaaaaaabb']],
  ['bay', ['day', 'bar', 'ray', 'may', 'say'], ['bar', 'day', 'may']],
  ['bay', ['bay', 'bay'], ['bay']],
  ['', ['a', 'ab'], ['a']],
  ['bay', [], []],
])('%s among %j', (name, names, near) => void expect(nearestNames(name, names)).toEqual(near))
