// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermission;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.PointState;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Logbooks that were born half, left behind, moved away or written over. */
class LogbookCreationTest {
  @TempDir private Path folder;

  private static void use(Path path) {
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p", PointState.COMPLETE), Sample.readings(2), List.of());
      writer.end(RunState.COMPLETE, "", Sample.START);
      assertTrue(book.verify(1).sound());
    }
  }

  @Test
  void anEmptyFileIsANewLogbook() throws IOException {
    Path path = Files.createFile(folder.resolve("a.db"));
    try (Logbook book = Logbook.readOnly(path)) {
      assertEquals(List.of(), book.runs(RunFilter.ALL));
    }
    use(path);
    use(Files.createFile(folder.resolve("b.db")));
  }

  /** As a killed process left it: the head of a database with a write-ahead log, and no table. */
  @Test
  void oneThatWasBornHalfIsCompleted() throws IOException {
    Path path = folder.resolve("a.db");
    SqliteConnections.forWriting(path).close();
    assertEquals(4096, Files.size(path));
    use(path);
  }

  @Test
  void isMadeBesideAndLeavesNothingElse() throws IOException {
    use(folder.resolve("a.db"));
    try (var all = Files.list(folder)) {
      assertEquals(
          List.of("a.db", "a.db-lock"), all.map(p -> p.getFileName().toString()).sorted().toList());
    }
  }

  /** No process has such a number; Linux counts to 4,194,304 at most. */
  @Test
  void whatAKilledProcessLeftGoesWithTheNextDraft() throws IOException {
    use(folder.resolve("a.db"));
    Path mine =
        Files.createFile(folder.resolve(".x.mlr.%s.part".formatted(ProcessHandle.current().pid())));
    for (String end : List.of("", "-wal", "-shm", "-journal")) {
      Files.createFile(folder.resolve(".x.mlr.99999999.part" + end));
    }
    Files.createFile(folder.resolve("x.part"));
    try (Logbook book = Logbook.readOnly(folder.resolve("a.db"))) {
      book.backup(folder.resolve("copy.db"));
    }
    try (var all = Files.list(folder)) {
      List<String> left =
          all.map(p -> p.getFileName().toString()).filter(n -> n.contains(".part")).toList();
      assertEquals(2, left.size(), left::toString); // another's of a living process, and a person's
    }
    assertTrue(Files.exists(mine));
  }

  @Test
  void isReadByOwnerAndGroupOnlyAndSoAreItsCopies() throws IOException {
    assumeTrue(folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
    Path path = folder.resolve("a.db");
    use(path);
    try (Logbook book = Logbook.open(path)) {
      book.backup(folder.resolve("copy.db"));
      book.pack(book.runs(RunFilter.ALL), folder.resolve("a.mlr"), Optional.empty(), Sample.START);
      for (String name : List.of("a.db", "a.db-wal", "copy.db", "a.mlr")) {
        Set<PosixFilePermission> may = Files.getPosixFilePermissions(folder.resolve(name));
        assertFalse(may.contains(PosixFilePermission.OTHERS_READ), name);
        assertFalse(may.contains(PosixFilePermission.GROUP_WRITE), name);
        assertTrue(may.contains(PosixFilePermission.OWNER_WRITE), name);
      }
    }
  }

  private static void commit(RunWriter writer, String key) {
    writer.commit(Sample.point(key, PointState.COMPLETE), Sample.readings(3), List.of());
  }

  private static int points(Path path) {
    try (Logbook book = Logbook.readOnly(path)) {
      return book.reader(1).points().size();
    }
  }

  @Test
  void anotherInItsPlaceIsNoticedBeforeTheNextCommitAndNotTouched() throws IOException {
    Path path = folder.resolve("a.db");
    Path moved = folder.resolve("moved.db");
    Path other = folder.resolve("other.db");
    use(other);
    byte[] was = Files.readAllBytes(other);
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0002"))) {
      commit(writer, "p1");
      Files.move(path, moved);
      Files.copy(other, path);
      String said = assertThrows(LogbookException.class, () -> commit(writer, "p2")).getMessage();
      assertTrue(said.contains("another file stands in its place"), said);
      assertThrows(LogbookException.class, () -> commit(writer, "p3"));
    }
    assertEquals(1, points(moved));
    assertEquals(1, points(path));
    assertEquals(-1, Arrays.mismatch(was, Files.readAllBytes(path)));
    try (Logbook book = Logbook.readOnly(path)) {
      assertEquals("BX5-0001", book.reader(1).summary().start().unit());
      assertTrue(book.verify(1).sound());
    }
  }

  @Test
  void oneThatIsWrittenOverInItsPlaceIsNoticedToo() throws IOException {
    Path path = folder.resolve("a.db");
    Path other = folder.resolve("other.db");
    use(other);
    byte[] was = Files.readAllBytes(other);
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0002"))) {
      commit(writer, "p1");
      try (var out = Files.newOutputStream(path)) {
        out.write(was);
      }
      String said = assertThrows(LogbookException.class, () -> commit(writer, "p2")).getMessage();
      assertTrue(said.contains("was written over by another file"), said);
    }
    assertEquals(-1, Arrays.mismatch(was, Files.readAllBytes(path)));
    // As another process sees it; within this one SQLite still knows the old log.
    assertEquals(1, points(Files.copy(path, folder.resolve("again.db"))));
    assertFalse(Files.exists(folder.resolve("a.db-wal")));
  }

  @Test
  void oneThatIsDeletedIsMissed() throws IOException {
    Path path = folder.resolve("a.db");
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0002"))) {
      Files.delete(path);
      String said = assertThrows(LogbookException.class, () -> commit(writer, "p2")).getMessage();
      assertTrue(said.contains("is not where it was any more"), said);
    }
    assertFalse(Files.exists(path));
  }

  /** The same file by another way is no other file. */
  @Test
  void aBackupThatIsTakenAndALogThatIsEmptiedMeanwhileDisturbNothing() throws IOException {
    Path path = folder.resolve("a.db");
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0002"))) {
      for (int i = 0; i < 20; i++) {
        commit(writer, "p" + i);
        try (Logbook other = Logbook.open(path)) {
          other.begin(Sample.start("BX5-0003")).end(RunState.COMPLETE, "", Sample.START);
        }
      }
    }
    assertEquals(20, points(path));
    Files.copy(path, folder.resolve("b.db"), StandardCopyOption.REPLACE_EXISTING);
    assertEquals(20, points(folder.resolve("b.db")));
  }
}
