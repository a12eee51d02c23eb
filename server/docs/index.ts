/** Every page of the reference, by path. The same vocabulary gives the same pages: no clock, no chance. */
import { languagePage } from './language.ts'
import { asMarkdown } from './nodes.ts'
import { referencePage } from './page.ts'
import { projectPage } from './project.ts'
import { rulesPage } from './rules.ts'
import { schemas } from './schemas.ts'

export function documents(version: string): ReadonlyMap<string, string> {
  const language = languagePage()
  const rules = rulesPage()
  const project = projectPage()
  return new Map([
    ['language.md', asMarkdown(language)],
    ['rules.md', asMarkdown(rules)],
    ['project.md', asMarkdown(project)],
    ['reference.html', referencePage(`Doorwright ${version}: reference`, [...language, ...rules, ...project])],
    ...[...schemas()].map(([name, text]) => [`schema/${name}.json`, text] as const),
  ])
}
