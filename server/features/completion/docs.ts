/** The documentation of a completion, worked out only for the one that is looked at. */
import { allBlocks, type Door, type Files, FUNCTIONS, standardPipe } from '../../model/index.ts'
import { parseUnit } from '../../units/index.ts'
import { stockText, unitText } from '../hover.ts'
import { blockDoc, cautionNote, code, derivedDoc, explainPath, fieldDoc, paragraphs } from '../markdown.ts'
import { type Rules, ruleDoc } from '../rule_info.ts'
import { KEYWORDS } from '../words.ts'

/** @param doc what an item says it is about: `field drum.pipe`, `unit ft`, `value drum.turns`, `stock slat flat_20` */
export function documentation(
  doc: string,
  world: { file: string; files: Files; rules: Rules; door: Door | undefined },
): string | undefined {
  const [kind, subject] = [doc.slice(0, doc.indexOf(' ')), doc.slice(doc.indexOf(' ') + 1)]
  switch (kind) {
    case 'block': {
      const spec = allBlocks.find(b => b.name === subject)
      return spec && blockDoc(spec)
    }
    case 'field':
      return fieldText(subject)
    case 'value':
      return (
        (world.door && explainPath(world.door, subject)) ??
        fieldText(
          subject
            .split('.')
            .slice(-2)
            .join('.')
            .replace(/\[\d+\]/, ''),
        )
      )
    case 'unit':
      return unitText(subject, parseUnit(subject) ?? [])
    case 'rule': {
      const rule = world.rules.get(subject)
      return rule && ruleDoc(rule)
    }
    case 'function': {
      const f = FUNCTIONS.get(subject)
      return f && paragraphs(code(f.form), f.doc)
    }
    case 'keyword':
      return KEYWORDS[subject]
    case 'stock': {
      const space = subject.indexOf(' ')
      const [of, name] = [subject.slice(0, space), subject.slice(space + 1)]
      return (
        stockText(of, name, world.file, world.files) ??
        (of === 'pipe' && standardPipe(name) ? `${code(name)}, a standard pipe` : undefined)
      )
    }
    default:
      return undefined
  }
}

function fieldText(path: string): string | undefined {
  const [block, name] = path.split('.')
  for (const spec of allBlocks.filter(b => b.name === block)) {
    const field = spec.fields.get(name!)
    if (field) return paragraphs(fieldDoc(field), cautionNote(field.caution))
    const derived = spec.derived.get(name!)
    if (derived) return derivedDoc(derived)
  }
  return undefined
}
