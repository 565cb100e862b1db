// npm run fields     makes docs/result-fields.md from the types of src/vocabulary
import { writeFileSync } from 'node:fs';
import { resultFieldsPage } from './pages/resultFields.mjs';
import { vocabulary } from './pages/vocabulary.mjs';

writeFileSync(new URL('../docs/result-fields.md', import.meta.url), resultFieldsPage(vocabulary()));
