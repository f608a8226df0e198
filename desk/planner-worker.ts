import { parentPort } from 'node:worker_threads'
import { answerPlanning, type PlanningRequest } from './planning-request.ts'

// The worker's whole life: one question in, one answer out. Questions queue in the port while one is worked on.
parentPort?.on('message', ({ id, request }: { readonly id: number; readonly request: PlanningRequest }) => {
  parentPort?.postMessage({ id, answer: answerPlanning(request) })
})
