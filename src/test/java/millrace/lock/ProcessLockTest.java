// SPDX-License-Identifier: Apache-2.0
package millrace.lock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProcessLockTest {
  @TempDir private Path folder;

  /** Another process: tries to take the lock and ends with 0 where it can. */
  static final class Other {
    public static void main(String[] args) throws IOException {
      System.exit(ProcessLock.take(Path.of(args[0]), Long.parseLong(args[1])).isPresent() ? 0 : 1);
    }
  }

  private static boolean anotherProcessGets(Path file, long at) throws Exception {
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    String classes = System.getProperty("java.class.path");
    Process other =
        new ProcessBuilder(java, "-cp", classes, Other.class.getName(), file.toString(), "" + at)
            .start();
    return other.waitFor() == 0;
  }

  @Test
  void isNotTakenTwice() throws IOException {
    Path file = folder.resolve("lock");
    try (ProcessLock first = ProcessLock.take(file, 7).orElseThrow()) {
      assertEquals(Optional.empty(), ProcessLock.take(folder.resolve("./lock"), 7));
      ProcessLock.take(file, 8).orElseThrow().close();
      first.close();
      ProcessLock again = ProcessLock.take(file, 7).orElseThrow();
      first.close();
      assertEquals(Optional.empty(), ProcessLock.take(file, 7));
      again.close();
    }
  }

  @Test
  void oneAmongUsersIsForEveryoneToWrite() throws Exception {
    Path file = folder.resolve("of all");
    try (ProcessLock first = ProcessLock.takeAmongUsers(file, 3).orElseThrow()) {
      assertTrue(ProcessLock.takeAmongUsers(file, 3).isEmpty());
      assertFalse(anotherProcessGets(file, 3));
      first.close();
      assertTrue(anotherProcessGets(file, 3));
    }
    if (Files.getFileStore(file).supportsFileAttributeView("posix")) {
      assertEquals("rw-rw-rw-", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    }
  }

  /** On POSIX systems closing a second channel of the file would drop the lock. */
  @Test
  void isKeptWhereThisProcessTriesAgain() throws Exception {
    Path file = folder.resolve("lock");
    try (ProcessLock first = ProcessLock.take(file, 0).orElseThrow()) {
      assertTrue(ProcessLock.take(file, 0).isEmpty());
      assertFalse(anotherProcessGets(file, 0));
      first.close();
      assertTrue(anotherProcessGets(file, 0));
    }
  }

  @Test
  void aNoteSaysWhoHasItUntilItIsLetGoOf() throws IOException {
    Path note = folder.resolve("held");
    assertEquals(Optional.empty(), ProcessLock.holder(note));
    ProcessLock lock = ProcessLock.take(folder.resolve("lock"), 1, note).orElseThrow();
    assertEquals(Optional.of(LockHolder.thisProcess()), ProcessLock.holder(note));
    lock.close();
    assertFalse(Files.exists(note));
  }

  @Test
  void isFreeWhereNoNoteCanBeLeft() throws IOException {
    Path file = folder.resolve("lock");
    Path note = folder.resolve("missing").resolve("held");
    assertThrows(IOException.class, () -> ProcessLock.take(file, 1, note));
    ProcessLock.take(file, 1).orElseThrow().close();
  }
}
