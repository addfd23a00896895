// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Optional;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.Table;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import org.junit.jupiter.api.Test;

/** What is known of an instrument that a person sets is what the person says. */
class InstrumentCheckTest {
  private static BenchCheckFinding found(Optional<BenchOperator> person) {
    Bench bench =
        new Table()
            .bench(
                """
                bench: kitchen table
                instruments:
                  box: {driver: by hand, address: by hand, roles: {load: {}}}
                """,
                Drivers.load(Path.of("drivers")),
                BenchOperator.NOBODY);
    BenchFile.Entry entry = bench.file().instruments().get("box");
    return InstrumentCheck.of(bench, entry, LocalDate.EPOCH, person).finding();
  }

  private static BenchCheckFinding answered(String answer) {
    return found(Optional.of(question -> new BenchOperator.Answer(answer, "Ada")));
  }

  @Test
  void isNotGoodBeforeAnybodyWasAsked() {
    assertEquals(
        BenchCheckFinding.caution(
            "box (load)",
            "set by hand, and nobody was asked: see for yourself that it is in its place and"
                + " switched on."),
        found(Optional.empty()));
  }

  @Test
  void isGoodWhereAPersonSaysSo() {
    assertEquals(
        BenchCheckFinding.good(
            "box (load)", "set by hand; a person says that it is there; no calibration date"),
        answered(""));
  }

  @Test
  void isBadWhereAPersonSaysWhy() {
    assertEquals(
        BenchCheckFinding.bad("box (load)", "a person says: its fuse is gone"),
        answered("its fuse is gone"));
  }
}
