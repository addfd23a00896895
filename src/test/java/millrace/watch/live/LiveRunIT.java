// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.exchange.Import;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A run for its page, when reading or assessing it fails. */
@Timeout(120)
class LiveRunIT {
  @TempDir private Path folder;
  private Path book;
  private final List<Throwable> faults = new ArrayList<>();
  private final BlockingQueue<Runnable> tasks = new LinkedBlockingQueue<>();

  @BeforeEach
  void begin() throws IOException {
    book = folder.resolve("night.db");
    Path sheet = Path.of("examples/fx-3.datasheet.yaml");
    try (Logbook open = Logbook.openOrCreate(book)) {
      Import.check(Path.of("examples/fx-3-by-hand.csv"))
          .into(
              open,
              new Import.Circumstances(
                  Optional.of(new Import.Attached(sheet.toString(), Files.readAllBytes(sheet))),
                  RunStart.People.NONE,
                  Optional.empty(),
                  Map.of(),
                  "0.0.1",
                  Instant.parse("2026-01-15T20:30:00Z"),
                  ZoneOffset.ofHours(1)));
    }
  }

  private LiveRun run(Function<RunReader, Assessment> assessor) {
    return new LiveRun(
        LogbookPlace.of(book),
        1,
        "token",
        new LiveRun.Assessing(tasks::add, assessor, new OwnFaults(faults::add)));
  }

  private static String limits(LiveRun run) {
    return run.shown().pieces().getOrDefault("limits", "");
  }

  /** The next assessment that the page asks for. */
  private Runnable next(LiveRun run) throws InterruptedException {
    Runnable task = null;
    while (task == null) {
      run.shown();
      task = tasks.poll(200, TimeUnit.MILLISECONDS);
    }
    return task;
  }

  @Test
  void aLogbookThatCannotBeReadForAMomentIsAssessedAgainWithoutAChange() throws Exception {
    LiveRun run = run(Assessor::assess);
    Runnable first = next(run);
    Path away = Files.move(book, folder.resolve("away.db"));
    first.run();
    Files.move(away, book);
    assertEquals("", limits(run));
    next(run).run();
    assertTrue(limits(run).contains("Limits"), limits(run));
    assertEquals(List.of(), faults);
  }

  @Test
  void aFaultOfOursIsSaidOnThePageAndPassedOnAndTheNextReadingsAreAssessed() throws Exception {
    IllegalStateException ours = new IllegalStateException("never so");
    boolean[] broken = {true};
    LiveRun run =
        run(
            reader -> {
              if (broken[0]) {
                throw ours;
              }
              return Assessor.assess(reader);
            });
    next(run).run();
    assertEquals(List.of(ours), faults);
    assertTrue(limits(run).contains("a fault of Millrace itself"), limits(run));
    broken[0] = false;
    try (Logbook open = Logbook.open(book)) {
      open.add(
          1,
          new Remark(
              RemarkKind.REMARK, OptionalLong.empty(), "looked at", "E. Winter", Instant.EPOCH));
    }
    next(run).run();
    assertFalse(limits(run).contains("a fault of Millrace itself"), limits(run));
  }

  @Test
  void aFinishedRunIsReadAgainOnlyWhenItsLogbookWasWritten() throws Exception {
    LiveRun run = run(Assessor::assess);
    next(run).run();
    for (String name : List.of("night.db", "night.db-wal")) {
      Path file = folder.resolve(name);
      if (Files.exists(file)) {
        Files.setLastModifiedTime(file, FileTime.from(Instant.parse("2026-03-01T00:00:00Z")));
      }
    }
    run.shown(); // with the results, and the time of the files
    Map<String, String> drawn = later(run);
    assertSame(drawn, later(run));
    try (Logbook open = Logbook.open(book)) {
      open.add(
          1, new Remark(RemarkKind.REMARK, OptionalLong.empty(), "x", "E. Winter", Instant.EPOCH));
    }
    assertNotSame(drawn, later(run));
  }

  /** What is shown when the last look is no longer fresh. */
  private static Map<String, String> later(LiveRun run) throws InterruptedException {
    Thread.sleep(1000);
    return run.shown().pieces();
  }
}
