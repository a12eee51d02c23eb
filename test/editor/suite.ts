/** Runs inside the extension host of a real VS Code: every scenario in turn. */
import { scenarios } from './support.ts'
import './text.ts'
import './faces.ts'
import './verbs.ts'

export async function run(): Promise<void> {
  const failed: string[] = []
  for (const [name, body] of scenarios) {
    const start = performance.now()
    try {
      await body()
      console.log(`ok ${name} (${(performance.now() - start).toFixed(0)} ms)`)
    } catch (error) {
      failed.push(name)
      console.log(`FAILED ${name}: ${error instanceof Error ? error.stack : error}`)
    }
  }
  if (failed.length > 0) throw new Error(`${failed.length} failed`)
}
