// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import millrace.bench.driver.Drivers;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.fault.StoppedException;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.UnitUnderTest;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A logbook that is copied while a run writes it, and one that was moved to another folder. */
@Timeout(120)
class LogbookElsewhereIT {
  private static final String SEQUENCE =
      """
      sequence: a run that is interrupted
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA, 100uA]
          do:
            - zero
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 5}}
      """;

  private static final int COPIED_AFTER = 4;
  private static final int STOPPED_AFTER = 7;
  private static final int ALL = 22;

  @TempDir private Path folder;
  private Path written = Path.of("");
  private Path copy = Path.of("");
  private Path other = Path.of("");

  @BeforeEach
  void stopARunOnTheWayAndCopyItBefore() throws IOException {
    written = folder.resolve("written.db");
    copy = folder.resolve("copy.db");
    other = Files.createDirectory(folder.resolve("another machine"));
    Path sequence = Files.writeString(folder.resolve("s.yaml"), SEQUENCE);
    RunInputs inputs = RunInputs.read(sequence, Path.of("examples/fx-3.datasheet.yaml"));
    StopRequest stop = new StopRequest(run -> "Go on with: millrace run --resume " + run);
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    try (Logbook book = Logbook.openOrCreate(written);
        BenchSession setting =
            BenchSession.simulated(
                3, clock, inputs.datasheet(), Drivers.load(Path.of("drivers")))) {
      Night night =
          new Night(
              inputs,
              setting,
              book,
              new OperatorAttendance(
                  RunStart.People.NONE, q -> "", List.of(copying(stop)), stop, List.of()));
      assertThrows(StoppedException.class, () -> night.begin(UnitUnderTest.of("FX3-00042")));
    }
  }

  private RunObserver copying(StopRequest stop) {
    return new RunObserver() {
      private int seen;

      @Override
      public void committed(Point point, List<Reading> readings) {
        seen++;
        if (seen == COPIED_AFTER) {
          Spoken said = on(written, "export", "--backup", copy.toString());
          assertEquals(0, said.code(), said.err());
        } else if (seen == STOPPED_AFTER) {
          stop.stop(StoppedException.Signal.INT);
        }
      }
    };
  }

  private static Spoken on(Path logbook, String... words) {
    List<String> all = new java.util.ArrayList<>(List.of(words));
    all.addAll(List.of("--logbook", logbook.toString()));
    return Spoken.by(all.toArray(String[]::new));
  }

  private static int points(Path logbook) {
    try (Logbook book = Logbook.readOnly(logbook)) {
      return book.reader(1).points().size();
    }
  }

  @Test
  void theCopyHoldsEveryPointUpToThenAndIsWhole() throws IOException {
    assertEquals(COPIED_AFTER, points(copy));
    Spoken shown = on(copy, "show", "1", "--verify");
    // The run goes on, so nothing vouches for it yet.
    assertEquals(5, shown.code(), shown.err());
    assertTrue(shown.out().contains("has not ended"), shown.out());
    assertTrue(shown.out().contains("what is there is whole"), shown.out());
    assertFalse(Files.exists(folder.resolve("copy.db.part")));
  }

  @Test
  void bothGoOnElsewhereAndAreAnalysedThere() throws IOException {
    for (Path each : List.of(written, copy)) {
      Path moved = Files.move(each, other.resolve(each.getFileName()));
      Spoken resumed = on(moved, "run", "--resume", "1");
      assertEquals(1, resumed.code(), resumed.err()); // U is too large for one limit to be met
      assertEquals(ALL, points(moved));
      Spoken found = on(moved, "analyze", "1", "--json");
      assertTrue(found.out().contains("\"output_conductance\""), found.out());
      assertEquals(0, on(moved, "show", "1", "--verify").code());
    }
  }

  @Test
  void aFileThatIsThereIsNotOverwrittenAndNothingElseIsSaidWithIt() throws IOException {
    byte[] before = Files.readAllBytes(copy);
    Spoken again = on(written, "export", "--backup", copy.toString());
    assertEquals(5, again.code());
    assertTrue(again.err().contains("a file of this name already"), again.err());
    assertEquals(before.length, Files.readAllBytes(copy).length);
    assertEquals(2, on(written, "export", "1", "--backup", "x.db").code());
    Path nowhere = other.resolve("no folder/x.db");
    Spoken unwritable = on(written, "export", "--backup", nowhere.toString());
    assertEquals(5, unwritable.code());
    assertTrue(unwritable.err().contains("the folder exists"), unwritable.err());
  }
}
