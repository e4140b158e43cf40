"""Runs one program and says what it took, by the kernel's own account of it.

    measure.py OUTPUT PROGRAM ARGUMENT…    the program's standard output goes to OUTPUT

Prints {"wall_s", "cpu_s", "peak_mb", "status"}. Of a program with several processes the peak is that of its largest.
"""

import json
import os
import sys
import time

output, *command = sys.argv[1:]
target = os.open(output, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
began = time.perf_counter()
child = os.posix_spawnp(command[0], command, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, target, 1)])
_, status, usage = os.wait4(child, 0)
wall = time.perf_counter() - began
print(
    json.dumps(
        {
            "wall_s": wall,
            "cpu_s": usage.ru_utime + usage.ru_stime,
            "peak_mb": usage.ru_maxrss * 1024 / 1e6,  # Linux counts in KiB
            "status": os.waitstatus_to_exitcode(status),
        }
    )
)
