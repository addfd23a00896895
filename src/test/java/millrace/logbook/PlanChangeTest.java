// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.evidence.PointState;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What was changed of the plan of a run: kept, sealed, and told where somebody changed it. */
class PlanChangeTest {
  @TempDir private Path folder;
  private Path path = Path.of("");

  private static PlanChange skip() {
    return new PlanChange.Draft(
            PlanChange.Kind.SKIP_TEMPERATURE,
            "what is left of stay 2, 40 degC",
            List.of("40 degC/1mA/zero", "40 degC/1mA/0 ohm"),
            "the chamber is needed",
            "Ada")
        .at(Sample.START, Duration.ofSeconds(11));
  }

  private static PlanChange add() {
    return new PlanChange.Draft(
            PlanChange.Kind.ADD_TEMPERATURE,
            new AddedTemperature(33.5, 1).words(),
            List.of(),
            "it bends there",
            "Ada")
        .at(Sample.START, Duration.ofSeconds(12));
  }

  @BeforeEach
  void write() {
    path = folder.resolve("a.db");
    try (Logbook book = Logbook.openOrCreate(path);
        RunWriter writer = book.begin(Sample.start("BX5-0001"))) {
      writer.planChange(skip());
      writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(2), List.of());
      writer.planChange(add());
      writer.end(RunState.STOPPED, "", Sample.START);
    }
  }

  @Test
  void isReadAsItWasWritten() {
    try (Logbook book = Logbook.readOnly(path)) {
      List<PlanChange> changes = book.reader(1).planChanges();
      assertEquals(List.of(skip(), add()), changes);
      assertEquals("what is left of stay 2, 40 degC", changes.get(0).words());
      assertEquals(List.of("40 degC/1mA/zero", "40 degC/1mA/0 ohm"), changes.get(0).keys());
      assertEquals(new AddedTemperature(33.5, 1), AddedTemperature.of(changes.get(1)));
      assertEquals(
          "add temperature: 33.5 degC after stay 2; it bends there (Ada)",
          changes.get(1).inOneLine());
    }
  }

  @Test
  void isSealedBeforeTheRunEndsAndAfterItIsResumed() {
    try (Logbook book = Logbook.open(path)) {
      assertTrue(book.verify(1).sound());
      try (RunWriter writer = book.resume(1)) {
        writer.planChange(add());
        writer.end(RunState.COMPLETE, "", Sample.START);
      }
      RunVerification found = book.verify(1);
      assertEquals(List.of(), found.faults());
      assertEquals(
          List.of("plan change", "plan change", "end", "plan change", "end"),
          found.seals().stream().map(RunVerification.Seal::what).toList());
    }
  }

  @Test
  void entersTheDigest() {
    Path without = folder.resolve("b.db");
    try (Logbook book = Logbook.openOrCreate(without);
        RunWriter writer = book.begin(Sample.start("BX5-0001"))) {
      writer.end(RunState.STOPPED, "", Sample.START);
      String bare = book.reader(1).digest();
      try (RunWriter more = reopened(writer, book)) {
        more.planChange(skip());
      }
      assertNotEquals(bare, book.reader(1).digest());
    }
  }

  private static RunWriter reopened(RunWriter writer, Logbook book) {
    writer.close();
    return book.resume(1);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "UPDATE plan_change SET reason = 'no reason' WHERE id = 1 | plan change 1 is not what was"
            + " sealed",
        "UPDATE plan_change SET who = 'Eve' WHERE id = 2 | plan change 2 is not what was sealed",
        "UPDATE plan_change SET text = 'stay 1' WHERE id = 1 | the changes of its plan are not",
        "DELETE FROM plan_change WHERE id = 2 | it has 1 of kind 'plan change' and seals for 2",
        "DELETE FROM link WHERE kind = 'plan change' | it has 2 of kind 'plan change' and seals for"
            + " 0"
      })
  void whoChangesItIsTold(String change, String words) {
    tamper(change);
    try (Logbook book = Logbook.readOnly(path)) {
      RunVerification found = book.verify(1);
      assertFalse(found.sound());
      assertTrue(String.join("\n", found.faults()).contains(words), found.faults()::toString);
    }
  }

  private void tamper(String statement) {
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact(
          "tampering",
          () -> {
            for (String trigger : List.of("plan_change_stays", "plan_change_remains")) {
              session.script("DROP TRIGGER " + trigger);
            }
            session.script("DROP TRIGGER link_remains");
            session.script(statement);
          });
    }
  }

  @ParameterizedTest
  @CsvSource({"UPDATE plan_change SET who = 'Eve'", "DELETE FROM plan_change"})
  void isOnlyEverAdded(String statement) {
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      assertThrows(
          LogbookException.class,
          () -> session.transact("changing", () -> session.script(statement)));
    }
  }

  @Test
  void travelsWithItsRun() {
    Path pack = folder.resolve("a.mlr");
    try (Logbook here = Logbook.readOnly(path);
        Logbook there = Logbook.openOrCreate(folder.resolve("there.db"))) {
      here.pack(here.runs(RunFilter.ALL), pack, Optional.empty(), Sample.START);
      there.take(pack);
      assertEquals(List.of(skip(), add()), there.reader(1).planChanges());
      assertEquals(List.of(), there.verify(1).faults());
      assertEquals(here.reader(1).digest(), there.reader(1).digest());
    }
  }
}
