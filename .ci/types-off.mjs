// Lets Node run the TypeScript of this project as it stands, types blanked by the compiler itself.
// Benchmarks use it: other loaders wrap functions to keep their names, and the hot loops pay.
import { register } from 'node:module';

register('./types-off-hooks.mjs', import.meta.url);
