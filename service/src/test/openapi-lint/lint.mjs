// Lints the file that is named: one line a problem, nothing where all is well.
import { createConfig, lint } from '@redocly/openapi-core';

const config = await createConfig({
  extends: ['all'],
  rules: {
    'request-mime-type': { severity: 'error', allowedValues: ['application/json', 'application/merge-patch+json', 'application/octet-stream', 'application/x-ndjson', 'text/csv', 'application/x-www-form-urlencoded'] },
    'response-mime-type': {
      severity: 'error',
      allowedValues: [
        'application/json', 'application/problem+json', 'application/yaml', 'application/openmetrics-text', 'text/csv', 'text/event-stream', 'text/html',
        'text/plain', 'text/x-c', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      ],
    },
    'boolean-parameter-prefixes': 'off', // dry_run says as much as is_dry_run
    'info-contact': 'off', // it runs on somebody's own bench: there is nobody to name
    'no-http-verbs-in-paths': 'off', // takes "heading" for HEAD
    'operation-description': 'off', // every call has a summary; a description where there is more to say
    'path-segment-plural': 'off', // pages of one thing: /tracker/{id}
    'required-string-property-missing-min-length': 'off', // many texts may be empty, and their words say so
    'scalar-property-missing-example': 'off', // whole answers are the examples, OpenApiExamplesTest asks for them
    'tags-alphabetical': 'off', // by what is asked for most
  },
});
// A cell of a spreadsheet takes whatever it gets, so its errors are a line of text.
const isCell = ({ ruleId, location }) => ruleId.includes('problem-details') && location[0].pointer.startsWith('#/components/responses/Cell');
for (const problem of await lint({ ref: process.argv[2], config })) {
  if (isCell(problem)) continue;
  const { ruleId, location, message } = problem;
  console.log(`${ruleId} ${location[0].pointer}: ${message}`);
}
