// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** Reading much of a logbook in one go, and one run beside another. */
class UnchangingReadTest {
  @RegisterExtension final OpenBook open = new OpenBook();

  private long run(String unit, int readings) {
    try (RunWriter writer = open.logbook().begin(Sample.start(unit))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(readings), List.of());
      writer.end(RunState.COMPLETE, "", Sample.START.plusSeconds(60));
    }
    List<RunSummary> all = open.logbook().runs(RunFilter.ALL);
    return all.get(all.size() - 1).id();
  }

  private Logbook reader() {
    return Logbook.readOnly(open.logbook().path());
  }

  private static int count(Logbook book) {
    return book.runs(RunFilter.ALL).size();
  }

  @Test
  void everythingIsAsItStoodAtTheFirstQuestionUntilTheWorkEnds() {
    run("BX5-0001", 1);
    try (Logbook reader = reader()) {
      int during =
          reader.unchanging(
              () -> {
                count(reader);
                run("BX5-0002", 1);
                return reader.unchanging(() -> count(reader)) + count(reader);
              });

      assertEquals(2, during);
      assertEquals(2, count(reader));
    }
  }

  @Test
  void workThatFailsLeavesTheLogbookReadable() {
    run("BX5-0001", 1);
    try (Logbook reader = reader()) {
      assertThrows(
          IllegalStateException.class,
          () ->
              reader.unchanging(
                  () -> {
                    throw new IllegalStateException("as it happens");
                  }));
      run("BX5-0002", 1);

      assertEquals(2, count(reader));
    }
  }

  private static int all(ReadingCursor cursor) {
    int count = 0;
    while (cursor.next()) {
      count++;
    }
    return count;
  }

  @Test
  void readingsOfTwoRunsAreReadSideBySideAndAgain() {
    long few = run("BX5-0001", 3);
    long many = run("BX5-0002", 7);
    List<MeasuredSignal> current = List.of(MeasuredSignal.CURRENT);
    try (Logbook reader = reader();
        ReadingCursor left = reader.reader(few).readings(current)) {
      for (int i = 0; i < 3; i++) {
        assertTrue(i > 0 || left.next());
        try (ReadingCursor whole = reader.reader(many).readings(current)) {
          assertEquals(7, all(whole));
        }
        try (ReadingCursor begun = reader.reader(many).readings(current)) {
          assertTrue(begun.next());
        }
      }

      assertEquals(2, all(left));
    }
  }

  @Test
  void aCursorThatIsClosedTwiceLeavesThoseAloneThatCameAfterIt() {
    long run = run("BX5-0001", 5);
    try (Logbook reader = reader()) {
      ReadingCursor first = reader.reader(run).readings();
      first.close();
      try (ReadingCursor second = reader.reader(run).readings()) {
        assertTrue(second.next());
        first.close();

        assertEquals(4, all(second));
      }
    }
  }
}
