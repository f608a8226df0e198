import { problem, type Problem } from '../../../problems.ts'

/**
 * A project of the resource-constrained project scheduling problem (RCPSP): activities that may not be interrupted,
 * finish-to-start precedence without lags, and renewable resources of constant capacity.
 *
 * Activities are numbered from 0; there may be any number of first and last ones. Durations, needs and capacities are
 * whole numbers >= 0, durations in any unit of time.
 */
export interface Project {
  readonly durations: readonly number[]
  /** needs[activity][resource]: units taken during the whole of the activity. */
  readonly needs: readonly (readonly number[])[]
  readonly capacities: readonly number[]
  /** successors[activity]: those that may start once it is finished. */
  readonly successors: readonly (readonly number[])[]
}

/** What is wrong with a project, so that no method ever runs on one that cannot be scheduled; empty when all is well. */
export function projectProblems(project: Project): readonly Problem[] {
  const found: Problem[] = []
  const count = project.durations.length
  if (project.needs.length !== count || project.successors.length !== count) {
    return [problem('project-shape', 'Durations, needs and successors must have one entry for each activity.')]
  }
  const whole = (value: number | undefined): boolean => value !== undefined && Number.isInteger(value) && value >= 0
  for (let activity = 0; activity < count; activity++) {
    if (!whole(project.durations[activity])) {
      found.push(
        problem(
          'project-duration',
          `The duration of activity ${activity} must be a whole number, 0 or more.`,
          `durations.${activity}`,
        ),
      )
    }
    project.capacities.forEach((capacity, resource) => {
      const need = project.needs[activity]?.[resource]
      if (!whole(need)) {
        found.push(
          problem(
            'project-need',
            `Activity ${activity} must need a whole number of resource ${resource}, 0 or more.`,
            `needs.${activity}.${resource}`,
          ),
        )
      } else if ((need ?? 0) > capacity) {
        found.push(
          problem(
            'need-above-capacity',
            `Activity ${activity} needs ${need} of resource ${resource}, there are ${capacity}: raise the capacity or split the activity.`,
            `needs.${activity}.${resource}`,
          ),
        )
      }
    })
    for (const next of project.successors[activity] ?? []) {
      if (!whole(next) || next >= count) {
        found.push(
          problem(
            'project-successor',
            `Activity ${activity} names a successor that does not exist.`,
            `successors.${activity}`,
          ),
        )
      }
    }
  }
  if (found.length === 0) {
    const order = topologicalOrder(project.successors)
    if (order.length < count) {
      const placed = new Set(order)
      const looped = project.durations.map((_, activity) => activity).filter((activity) => !placed.has(activity))
      found.push(
        problem(
          'precedence-cycle',
          `Activities ${looped.join(', ')} wait for each other in a circle (or follow one): remove one of the precedences.`,
          'successors',
        ),
      )
    }
  }
  return found
}

/** Every activity after all its predecessors, lower numbers first where there is a choice; shorter than the input if there is a cycle. */
export function topologicalOrder(successors: readonly (readonly number[])[]): number[] {
  const waitingFor = new Int32Array(successors.length)
  for (const list of successors) for (const next of list) waitingFor[next]! += 1
  const order: number[] = []
  for (let activity = 0; activity < successors.length; activity++) if (waitingFor[activity] === 0) order.push(activity)
  for (let position = 0; position < order.length; position++) {
    for (const next of successors[order[position]!]!) {
      waitingFor[next]! -= 1
      if (waitingFor[next] === 0) order.push(next)
    }
  }
  return order
}

/** The same lists read backwards. */
export function reversedArcs(successors: readonly (readonly number[])[]): number[][] {
  const predecessors: number[][] = successors.map(() => [])
  successors.forEach((list, activity) => {
    for (const next of list) predecessors[next]!.push(activity)
  })
  return predecessors
}
