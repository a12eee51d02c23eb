/** The page of the project file, from its schema. */
import { CONFIG_NAME, configSchema } from '../config/index.ts'
import { code, heading, list, type Node, table, text } from './nodes.ts'

const EXAMPLE = `{
  "limits": {
    "drum_sag": "0.02 in/ft",
    "push_force": { "value": "30 lbf", "because": "agreed with the operator of the yard" }
  },
  "severity": { "rail_depth": "warning", "trade_word": "off" },
  "exclude": ["archive/**"],
  "stock": ["stock"],
  "max_warnings": 0
}`

export const projectPage = (): Node[] => [
  heading(1, 'The project file', 'project-file'),
  text(
    `\`${CONFIG_NAME}\` sets for all jobs below its folder what a house does its own way. The nearest one above a file counts (no further up than a folder with \`.git\`), or the one that \`--config\` names. The same folder bounds \`use\`. \`doorwright check --print-config\` shows what is in force and where each setting comes from.`,
  ),
  code(EXAMPLE),
  table(
    ['setting', 'what it does'],
    Object.entries(configSchema.shape)
      .filter(([name]) => name !== '$schema')
      .map(([name, schema]) => [`\`${name}\``, schema.meta()?.description ?? '']),
  ),
  list([
    'Limits have the names and the quantities of the language. They are the farthest: a used file, the file and the opening each override them.',
    'A limit that is looser than the usual one needs a reason.',
    'A rule that keeps people safe, and an error of the text itself, can be made neither milder nor silent.',
    'What is wrong in the file is reported with its place, and is not in force; the command line then ends with status 2.',
  ]),
]
