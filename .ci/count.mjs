// Reads the runner's report, names every test that failed or was skipped, closes with the count.
import { existsSync, readFileSync } from 'node:fs';

const status = Number(process.argv[2] ?? 1);
const path = 'tests/.out/report.json';
if (!existsSync(path)) {
  console.log('The test runner left no report.');
  console.log('0 passed, 1 failed');
  process.exit(1);
}
const report = JSON.parse(readFileSync(path, 'utf8'));
const tests = report.testResults.flatMap((file) =>
  file.assertionResults.map((test) => ({ ...test, file: file.name })),
);
const of = (...kinds) => tests.filter((test) => kinds.includes(test.status));
const broken = report.testResults.filter(
  (file) => file.status === 'failed' && !file.assertionResults.some((t) => t.status === 'failed'),
);
for (const file of broken) console.log(`failed to run: ${file.name}: ${file.message}`);
for (const test of of('failed')) console.log(`failed: ${test.fullName}`);
const skipped = of('skipped', 'pending', 'todo', 'disabled');
for (const test of skipped) console.log(`skipped: ${test.fullName}`);
const passed = of('passed').length;
let failed = of('failed').length + broken.length;
if (status !== 0 && failed === 0) failed = 1;
if (skipped.length > 0) console.log(`${skipped.length} skipped`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
