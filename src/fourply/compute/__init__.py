"""Long work: the same pure function over many tasks, in this process, in workers of its own, or on a cluster.

Lives here:   the three ways (`here`, `pool`, `cluster`), the choice between them by size, what a worker process does.
May import:   errors, app.ports. `distributed` inside `cluster` alone, where it is asked for.
Never here:   what the work is: functions and values pass through unopened; a rule that one of the three keeps and the
              others do not.
Tested by:    the same tasks in all three ways, workers that are killed, work that is stopped.
"""
