"""A program on a terminal of its own, to type to."""

import os
import pty
import select
import signal
import time


class Terminal:
    def __init__(self, command, folder):
        self.seen = ""
        self.child, self.line = pty.fork()
        if self.child == 0:
            os.chdir(folder)
            environment = {"PATH": os.environ["PATH"], "TERM": "dumb", "HOME": str(folder), "LC_ALL": "C.UTF-8"}
            os.execvpe(command[0], command, environment)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        os.close(self.line)

    def send(self, keys):
        """Types; `seen` then holds what is shown from here on."""
        self.seen = ""
        os.write(self.line, keys.encode())

    def shows(self, text, seconds=10):
        """Waits until the text is there."""
        end = time.monotonic() + seconds
        while text not in self.seen and time.monotonic() < end:
            if select.select([self.line], [], [], 0.1)[0]:
                self.seen += os.read(self.line, 65536).decode(errors="replace")
        return text in self.seen
