// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.comparison.Batch;
import millrace.assessment.comparison.Batch.Order;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.evidence.RunOrigin;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Visits of one unit with known results: u of 15 ppm by the meter, 2 ppm by noise. */
class UnitHistoryReaderTest {
  private static final int APART = 100;
  private static final double YEAR = 365.25;

  @TempDir private Path folder;
  @AutoClose private Batch batch;

  @BeforeEach
  void openBatch() {
    batch = new Batch(folder);
  }

  private long visit(double ppm) {
    long run = batch.run(Order.of("U1"), List.of(Batch.measured(ppm)));
    batch.later(APART);
    return run;
  }

  private long withCertificate(double ppm, String certificate) {
    long run =
        batch.run(
            Order.of("U1"),
            RunOrigin.BENCH,
            List.of(Batch.measured(ppm)),
            w -> Batch.instrument(w, certificate));
    batch.later(APART);
    return run;
  }

  private RangeHistory range() {
    UnitHistory history = UnitHistoryReader.of(batch.book(), "U1");
    assertEquals(1, history.ranges().size());
    return history.ranges().get(0);
  }

  private Drift drift() {
    return range().drift().orElseThrow();
  }

  /**
   * Three visits, 100 days apart, 10 ppm more each time: 36.525 ppm a year. The meter's 15 ppm are
   * in none of it: u = 2/sqrt(2 100^2) a day. The current error ahead has all of them.
   */
  @Test
  void theMetersErrorCancelsInTheDriftAndNotInTheCurrentErrorAhead() {
    List.of(10.0, 20.0, 30.0).forEach(this::visit);
    Drift drift = drift();
    assertEquals(0.1 * YEAR, drift.ppmPerYear(), 1e-3);
    double u = 2 / Math.sqrt(2 * APART * APART);
    assertEquals(u * YEAR, drift.uncertainty().standard(), 1e-3);
    assertTrue(drift.significant() && drift.sameInstruments());
    double last = range().last().day();
    Estimate ahead = drift.line().at(last + APART);
    assertEquals(40, ahead.value(), 1e-2);
    // 2^2 (1/3 + 2^2/2) and 15^2.
    assertEquals(Math.sqrt(4 * (1 / 3.0 + 2) + 225), ahead.standardUncertainty(), 1e-3);
  }

  /** A new certificate before the last visit: its error is new, and is in the drift. */
  @Test
  void aNewCertificateIsInTheDrift() {
    withCertificate(10, "C-1");
    withCertificate(20, "C-1");
    withCertificate(30, "C-2");
    UnitHistory history = UnitHistoryReader.of(batch.book(), "U1");
    Drift drift = drift();
    assertFalse(drift.sameInstruments());
    double same = 2 / Math.sqrt(2 * APART * APART) * YEAR;
    assertTrue(drift.uncertainty().standard() > same, drift.uncertainty().toString());
    assertEquals(
        List.of("current meter has another certificate than in run 2"),
        history.runs().get(2).notes());
    // Nobody knows whether both certificates err alike: the meter's 15 ppm stay whole at least.
    assertTrue(drift.line().at(range().last().day()).standardUncertainty() >= 15);
  }

  @Test
  void twoVisitsTellNothingYet() {
    visit(10);
    visit(20);
    assertEquals(Optional.empty(), range().drift());
    assertEquals(
        Optional.of("tells nothing yet: there are visits on 2 days; three are the least"),
        range().noDrift());
  }

  @Test
  void aRetestWithItsCauseBeginsANewLine() {
    List.of(10.0, 20.0, 30.0).forEach(this::visit);
    batch.run(Order.of("U1").with("retest cause", "R2 replaced"), List.of(Batch.measured(5)));
    RangeHistory range = range();
    assertEquals(1, range.counting().size());
    assertEquals(Optional.of("before this: R2 replaced"), range.visits().get(2).apart());
  }

  @Test
  void theDriftIsThatSinceTheLastRepair() {
    long first = visit(500);
    batch
        .book()
        .add(
            first,
            new Remark(
                RemarkKind.REPAIR, OptionalLong.empty(), "R2 replaced", "Ada", Instant.EPOCH));
    List.of(10.0, 20.0, 30.0).forEach(this::visit);
    assertEquals(0.1 * YEAR, drift().ppmPerYear(), 1e-3);
    assertEquals(3, drift().visits());
  }

  @Test
  void aPlainRemarkIsNoRepair() {
    long first = visit(10);
    batch
        .book()
        .add(
            first,
            new Remark(
                RemarkKind.REMARK, OptionalLong.empty(), "a mug on it", "Ada", Instant.EPOCH));
    List.of(20.0, 30.0).forEach(this::visit);
    assertEquals(3, drift().visits());
  }
}
