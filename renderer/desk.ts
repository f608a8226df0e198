export { desk } from './client.ts'
export type { Moved } from '../desk/views.ts'
