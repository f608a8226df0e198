/** Milliseconds that this process, its threads and memory management included, has had of all processors: fair on a machine that is shared. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1000
}
