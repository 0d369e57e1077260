// The walk-through by a client that was generated from what the service serves:
// a drawing, a plan that is waited for, its question, the answer, the worksheet
// and a file to cut from.
import createClient from 'openapi-fetch';
import type { components, paths } from './desk.js';

declare const process: { argv: string[] };
const [, , baseUrl, key] = process.argv;
const desk = createClient<paths>({ baseUrl, headers: { Authorization: 'Bearer ' + key } });
const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60" fill="none">
<g id="CUT" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/></g><g id="FOLD" stroke="#7a3eb1"><path d="M10 30H90"/></g></svg>`;

function given<T, E>(answer: { data?: T; error?: E }): T {
  if (answer.data === undefined) throw new Error(JSON.stringify(answer.error));
  return answer.data;
}

const sent = given(await desk.POST('/v1/drawings', {
  body: drawing as never, bodySerializer: (body: unknown) => body as string, headers: { 'Content-Type': 'image/svg+xml' },
}));
const planned = await desk.POST('/v1/plans', {
  params: { header: { Prefer: 'wait=30' } }, body: { drawing_id: sent.id, stock_id: 'film-removable-610' },
});
type Plan = components['schemas']['Plan'];
let plan = given(planned) as Plan; // as text it comes only where `Accept` asks for that
console.log(plan.status, planned.response.headers.get('Location') === '/v1/plans/' + plan.id);
const answers: Record<string, { answer: string }> = {};
for (const q of plan.questions) {
  console.log(q.id, q.code);
  answers[q.id] = { answer: q.answers[0]!.id };
}
const path = { plan_id: plan.id };
plan = given(await desk.POST('/v1/plans/{plan_id}/answers', { params: { path, header: { Prefer: 'wait=30' } }, body: { answers } })) as Plan;
console.log(plan.status, plan.size!.width_mm.toFixed(0), plan.size!.height_mm.toFixed(0), plan.estimate!.cutter_slot_min);

const sheet = await desk.GET('/v1/plans/{plan_id}/worksheet.pdf', { params: { path }, parseAs: 'text' });
console.log(sheet.response.status, given(sheet).slice(0, 5));
const file = await desk.GET('/v1/plans/{plan_id}/files/{file}', { params: { path: { ...path, file: 'load-1.dxf' } }, parseAs: 'text' });
console.log(file.response.status, (given(file) as unknown as string).includes('ENTITIES'));
const lacking = await desk.GET('/v1/plans/{plan_id}/files/{file}', { params: { path: { ...path, file: 'load-9.dxf' } } });
console.log(lacking.response.status, lacking.error?.code);
