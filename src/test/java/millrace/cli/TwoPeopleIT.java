// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import millrace.sim.SimReceivedLine;
import millrace.sim.fault.FaultPlan;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two people at one bench, each in a process of their own, who do not know of one another. Judged
 * by the lines that the load received: one run has the bench at a time, and who was refused has
 * told it nothing and left no logbook.
 */
class TwoPeopleIT {
  /** Beginning with resistances of its own, so that the load's log tells whose line it was. */
  private static final String SEQUENCE =
      """
      sequence: one of two
      readings: {count: 20, line cycles: 10}
      settle: {wait: 1 s}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {resistance: {from: %s kohm, to: %s kohm, points: 150}}
              sweep: up
      """;

  /** With 137 what did not stop within 2 s, as on a busy machine. */
  private static final Set<Integer> ENDS = Set.of(0, 1, 3, 7, 137, 143);

  /** Who makes it safe later takes the bench from one who takes longer than 2 s over it. */
  private static final Set<Integer> TAKEN_OVER = Set.of(0, 137, 143);

  @TempDir private Path folder;
  private int count;

  /** What somebody says. */
  private enum Act {
    RUN,
    SAFE,
    CHECK;

    /** What it may end with while another has the bench, or takes it away. */
    boolean endsWith(int code) {
      return this == SAFE ? TAKEN_OVER.contains(code) : ENDS.contains(code);
    }
  }

  /** Somebody at the bench. */
  private final class Person {
    private final Act act;
    private final Path place;
    private final RunProcess process;

    Person(Act act, int number, Served served) throws IOException {
      this(act, number, served, folder);
    }

    /** One whose own folder is another, as that of another user of the machine. */
    Person(Act act, int number, Served served, Path home) throws IOException {
      this.act = act;
      this.place = Files.createDirectory(folder.resolve("person-" + count++));
      List<String> words = new ArrayList<>();
      if (act == Act.RUN) {
        Path file = place.resolve("s.yaml");
        Files.writeString(file, SEQUENCE.formatted(1 + 4 * number, 4 + 4 * number));
        words.addAll(List.of("run", file.toString(), "--unit", "FX3-0000" + number));
        words.addAll(List.of("--datasheet", "examples/fx-3.datasheet.yaml", "--logbook"));
        words.addAll(List.of(logbook().toString(), "--speed", Integer.toString(Served.SPEED)));
      } else {
        words.addAll(act == Act.SAFE ? List.of("safe") : List.of("bench", "check"));
      }
      words.addAll(List.of("--bench", served.file()));
      process = RunProcess.start(place, home, words.toArray(String[]::new));
    }

    /** Whoever comes to the bench later than the one who makes it safe may well begin a run. */
    boolean came() {
      return act != Act.RUN || Files.exists(logbook()) || !process.process().isAlive();
    }

    Path logbook() {
      return place.resolve("run.db");
    }

    void assertEndedWell() throws InterruptedException {
      int code = process.ended();
      assertTrue(act.endsWith(code), act + " ended with " + code + ": " + process.said());
      if (code == 3) {
        // between a lock and its note, and between the note's end and the lock's, nobody has a name
        assertTrue(
            process.said().matches("(?s).* is in use by (process|another Millrace).*"),
            process.said());
        assertTrue(Files.notExists(logbook()), "who is refused leaves no logbook");
      }
    }
  }

  /** Two begin so far apart; a third makes the bench safe; the second person's exit code. */
  private void round(Act one, Act other, int apartMs) throws Exception {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Person first = new Person(one, 0, served);
      first.process.process().waitFor(apartMs, TimeUnit.MILLISECONDS);
      Person second = new Person(other, 1, served);
      first.process.process().waitFor(3, TimeUnit.SECONDS);
      boolean bothCame = first.came() && second.came();
      Person last = new Person(Act.SAFE, 2, served);
      last.assertEndedWell();
      List<SimReceivedLine> heard = served.bench().heard();
      first.assertEndedWell();
      second.assertEndedWell();
      assertEquals(List.of(), served.bench().unsafe());
      if (bothCame) {
        assertQuiet(served.bench().heard().subList(heard.size(), served.bench().heard().size()));
      }
      assertOneAfterTheOther(served.bench().heard());
    }
  }

  private static void assertQuiet(List<SimReceivedLine> since) {
    assertTrue(
        since.stream().noneMatch(h -> List.of("SOURCE ON", "OUTP ON").contains(h.line())),
        since.toString());
  }

  private static void assertOneAfterTheOther(List<SimReceivedLine> heard) {
    List<Boolean> whose =
        heard.stream()
            .filter(h -> h.instrument().equals("load") && h.line().matches("R [1-9][0-9.]+"))
            .map(h -> Double.parseDouble(h.line().substring(2)) > 4500)
            .toList();
    long changes = 0;
    for (int i = 1; i < whose.size(); i++) {
      changes += whose.get(i).equals(whose.get(i - 1)) ? 0 : 1;
    }
    assertTrue(changes <= 1, "two had the bench at once: " + whose);
  }

  @Test
  @Timeout(180)
  void oneRunHasTheBenchAtATime() throws Exception {
    round(Act.RUN, Act.RUN, 0);
  }

  @Test
  @Timeout(180)
  void twoWhoMakeItSafeAtOnceBothDo() throws Exception {
    round(Act.RUN, Act.SAFE, 2500);
  }

  /** Nothing of what another user does can be ended; the bench is told all the same, and that. */
  @Test
  @Timeout(180)
  void whatAnotherUserStillDrivesIsNotCalledSafe() throws Exception {
    Path home = Files.createDirectory(folder.resolve("another"));
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Person first = new Person(Act.RUN, 0, served);
      first.process.says(first.place.resolve("err"), "point 1 of");
      Person second = new Person(Act.RUN, 1, served, home);
      assertEquals(3, second.process.ended(), second.process.said());
      String holder = " is in use by another user of this machine;";
      assertTrue(second.process.said().contains(holder), second.process.said());
      Person safe = new Person(Act.SAFE, 2, served, home);
      assertEquals(8, safe.process.ended(), safe.process.said());
      String still = "still in use by another Millrace, which could not be ended";
      assertTrue(safe.process.said().contains(still), safe.process.said());
      assertTrue(
          served.bench().heard().stream().anyMatch(h -> h.line().equals("OUTP OFF")), "it is told");
      Person later = new Person(Act.SAFE, 0, served);
      assertEquals(0, later.process.ended(), later.process.said());
      first.process.ended();
      assertEquals(List.of(), served.bench().unsafe());
    }
  }

  @Test
  @Tag("campaign")
  @Timeout(3600)
  void nobodyGetsIntoAnothersWayAtRandomInstants() throws Exception {
    int rounds = Integer.getInteger("millrace.rounds", 60);
    SplittableRandom random = new Seeds(rounds).stream("two people");
    Act[] acts = Act.values();
    for (int i = 0; i < rounds; i++) {
      round(acts[random.nextInt(3)], acts[random.nextInt(3)], random.nextInt(3000));
      Path out = Files.createDirectories(Path.of("target", "verification"));
      Files.writeString(
          out.resolve("two-people.txt"),
          "%s rounds of two people at one bench: one hand at a time, safe at the end of each%n"
              .formatted(i + 1));
    }
  }
}
