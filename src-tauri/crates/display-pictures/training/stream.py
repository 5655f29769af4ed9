"""Fresh pictures from many generators at once, each a process of its own behind a pipe."""

import queue
import subprocess
import threading

import numpy as np

LINE = 192 * 48 * 3 + 16
LOOK = 320 * 320 * 3 + 1 + 64


def held(generator, kind, seed, count, *more):
    """All records of a finite run, for measuring."""
    size = LINE if kind == "lines" else LOOK
    done = subprocess.run([generator, kind, str(seed), str(count), *more], stdout=subprocess.PIPE, check=True)
    return np.frombuffer(done.stdout, np.uint8).reshape(-1, size)


class Stream:
    """Chunks of records, each seen once."""

    def __init__(self, generator, kind, workers, seed, chunk):
        self.size = LINE if kind == "lines" else LOOK
        self.chunk, self.full = chunk, queue.Queue(4 * workers)
        self.programs = []
        for worker in range(workers):
            program = subprocess.Popen(
                [generator, kind, str(seed * 1000 + worker)], stdout=subprocess.PIPE, bufsize=0
            )
            self.programs.append(program)
            threading.Thread(target=self.fill, args=(program,), daemon=True).start()

    def fill(self, program):
        while True:
            block = np.empty((self.chunk, self.size), np.uint8)
            view, at = memoryview(block).cast("B"), 0
            while at < block.size:
                came = program.stdout.readinto(view[at : at + (1 << 20)])
                if not came:
                    return
                at += came
            self.full.put(block)

    def batch(self, chunks):
        return np.concatenate([self.full.get() for _ in range(chunks)])

    def close(self):
        for program in self.programs:
            program.kill()
