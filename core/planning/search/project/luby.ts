/**
 * 1 1 2 1 1 2 4 1 1 2 ...: run lengths for restarts that lose at most a logarithmic factor against the best fixed length.
 * @param run counted from 1
 * @source M. Luby, A. Sinclair, D. Zuckerman, Information Processing Letters 47 (1993) 173-180
 */
export function luby(run: number): number {
  let size = 1
  while (size < run + 1) size *= 2
  return size === run + 1 ? size / 2 : luby(run - size / 2 + 1)
}
