// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.batch.ReferenceUnitControlChart;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.ProductionRunPurpose;
import millrace.run.production.OperatorScreen.Checked;
import millrace.run.production.OperatorScreen.Locked;
import millrace.run.production.OperatorScreen.Refused;
import millrace.run.production.OperatorScreen.Tested;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProductionLoopTest {
  private static final String CHECK = Floor.REFERENCE;

  @TempDir Path folder;
  @AutoClose private Floor floor;

  @BeforeEach
  void openFloor() {
    floor = new Floor(folder);
  }

  private List<String> serials() {
    return floor.tested.stream().map(BoardTestJob::serial).toList();
  }

  private List<String> reasons() {
    return floor.shown(Refused.class).stream().map(Refused::reason).toList();
  }

  @Test
  void noBoardIsTestedBeforeTheBenchWasChecked() {
    floor.work(10, "BX5-0001", CHECK, "BX5-0001");
    assertEquals(List.of(CHECK, "BX5-0001"), serials());
    assertTrue(floor.shown(Locked.class).get(0).reason().contains("not checked yet"));
  }

  @Test
  void aCheckThatIsOverdueLocks() {
    floor.work(2, CHECK, "BX5-0001", "BX5-0002", "BX5-0003", CHECK, "BX5-0003");
    assertEquals(List.of(CHECK, "BX5-0001", "BX5-0002", CHECK, "BX5-0003"), serials());
  }

  @Test
  void aRetestNeedsACauseAndTheFirstResultStays() {
    floor.errorsPpm.put("BX5-0001", 300.0);
    floor.work(9, CHECK, "BX5-0001");
    floor.errorsPpm.put("BX5-0001", 1.0);
    floor.work(9, CHECK, "BX5-0001", "", "BX5-0001", "BX5-0002", "BX5-0001", "loose plug");
    assertEquals(List.of(CHECK, "BX5-0001", CHECK, "BX5-0001"), serials());
    Tested again = floor.shown(Tested.class).get(0);
    assertEquals(Optional.of(BoardOutcome.FAIL), again.first());
    assertEquals(BoardOutcome.PASS, again.result().outcome());
    assertEquals(Optional.of("loose plug"), again.board().cause());
    assertEquals(0, again.tally().units());
    assertEquals(1, again.tally().retests());
    assertEquals(2, reasons().size());
    floor.work(9, CHECK, "BX5-0001");
    assertEquals(
        List.of(
            "it is already tested, and its 1 allowed retest is used up; the first result counts:"
                + " FAIL (run 2)."),
        reasons());
  }

  @Test
  void theCauseOfARetestIsChosenByItsNumber() {
    floor.work(9, CHECK, "BX5-0001", "BX5-0001", "9", "BX5-0001", "2");
    assertEquals(List.of(CHECK, "BX5-0001", "BX5-0001"), serials());
    assertEquals(1, reasons().size());
    List<Tested> tested = floor.shown(Tested.class);
    assertEquals(
        Optional.of("wrong fixture, cable or slot"), tested.get(tested.size() - 1).board().cause());
    String asked = floor.shown(OperatorScreen.Message.class).get(0).lines().toString();
    assertTrue(asked.contains("2  wrong fixture, cable or slot"), asked);
  }

  @Test
  void helpTellsWhatCanBeScannedAndIsNoBoard() {
    floor.work(9, CHECK, "?", "HELP", "BX5-0001");
    assertEquals(List.of(CHECK, "BX5-0001"), serials());
    assertEquals(List.of(), reasons());
    List<OperatorScreen.Message> told = floor.shown(OperatorScreen.Message.class);
    assertEquals(
        List.of("HELP", "HELP"), told.stream().map(OperatorScreen.Message::headline).toList());
    assertTrue(told.get(0).lines().contains("end  ends the session"), told.toString());
  }

  /** Some bar codes have no small letters, and some hang at the bench and are no cause. */
  @Test
  void theWordsOfTheBenchAreWordsInAnyLettersAndNoCause() {
    floor.work(9, CHECK, "BX5-0001", "BX5-0001", "End", "BX5-0001", "SETUP", "END", "BX5-0002");
    assertEquals(List.of(CHECK, "BX5-0001"), serials());
    assertEquals(2, reasons().size());
    assertTrue(reasons().stream().allMatch(r -> r.contains("needs a recorded cause")));
  }

  @Test
  void aBoardScannedWhereAFixtureIsAskedForMakesNoSetUp() {
    floor.work(9, CHECK, "setup", "BX5-0002", "", "BX5-0001");
    assertEquals(List.of(CHECK, "BX5-0001"), serials());
    assertEquals(List.of("it is neither a fixture nor a cable set."), reasons());
  }

  @Test
  void aUnitOfAnotherKindIsRefusedByItsNumberAndByItsPast() {
    floor.work(9, CHECK, "BX5-0001", "FX3-00001");
    assertEquals(
        "it is no serial number of the kind BX5 excitation source, which look like BX5-0000"
            + " (pattern BX5-[0-9]{4}).",
        reasons().get(0));
    floor.testing("BX5-B precision source").work(9, CHECK, "BX5-0001");
    assertEquals(
        List.of("it was tested as another kind, 'BX5 excitation source', in run 2."), reasons());
  }

  @Test
  void aTestThatWasBrokenOffIsMadeAgainWithoutBeingAskedWhy() {
    floor.troubles.put("BX5-0001", new InstrumentException("'dmm1': no reply; plug it in."));
    ProductionSummary summary = floor.work(9, CHECK, "BX5-0001", "BX5-0001");
    List<Tested> shown = floor.shown(Tested.class);
    assertEquals(BoardOutcome.ABORTED, shown.get(0).result().outcome());
    assertEquals(List.of("'dmm1': no reply; plug it in."), shown.get(0).result().doubts());
    assertEquals(BoardOutcome.PASS, shown.get(1).result().outcome());
    assertEquals(
        Optional.of("the test before was broken off (run 2)"), shown.get(1).board().cause());
    assertEquals(Set.of(BoardOutcome.ABORTED, BoardOutcome.PASS), summary.seen());
    assertEquals(1, summary.tally().units());
  }

  @Test
  void anInterlockLocksUntilTheBenchIsChecked() {
    floor.troubles.put("BX5-0001", new InterlockException("terminal voltage 31 V"));
    floor.work(9, CHECK, "BX5-0001", "BX5-0002", CHECK, "BX5-0002");
    assertEquals(List.of(CHECK, CHECK, "BX5-0002"), serials());
  }

  @Test
  void aBenchThatMayNotBeSafeEndsTheSession() {
    InstrumentException trouble = new InstrumentException("no reply");
    trouble.addSuppressed(new UnsafeBenchException("the supply may be on"));
    floor.troubles.put("BX5-0001", trouble);
    assertThrows(InstrumentException.class, () -> floor.work(9, CHECK, "BX5-0001", "BX5-0002"));
  }

  private void goodChecks(int count) {
    for (int i = 0; i < count; i++) {
      // 0, 1, 0, -1, ...: a mean moving range of 1 ppm.
      floor.errorsPpm.put(CHECK, new double[] {0, 1, 0, -1}[i % 4]);
      floor.work(9, CHECK);
      assertTrue(floor.shown(Checked.class).get(0).check().good());
    }
  }

  @Test
  void aReferenceUnitOutsideItsDatasheetLocksAndPutsBoardsInDoubt() {
    floor.work(2, CHECK, "BX5-0001", "BX5-0002");
    floor.errorsPpm.put(CHECK, 170.0);
    ProductionSummary summary = floor.work(1, CHECK, "BX5-0003");
    assertTrue(summary.checkFailed());
    floor.errorsPpm.put(CHECK, 0.0);
    floor.work(1, CHECK, "cleaned the contacts", "BX5-0003", CHECK);
    assertTrue(serials().contains("BX5-0003"));
    floor.errorsPpm.put(CHECK, 170.0);
    floor.work(2, CHECK, "no matter", "BX5-0004");
    assertFalse(serials().contains("BX5-0004"));
  }

  @Test
  void boardsSinceTheLastGoodCheckAreNamedWhenACheckFails() {
    floor.scansThen(
        () -> floor.errorsPpm.put(CHECK, 170.0), 2, CHECK, "BX5-0001", "BX5-0002", "*", CHECK);
    assertEquals(List.of(2L, 3L), floor.shown(Checked.class).get(1).doubtful());
  }

  @Test
  void aReferenceUnitInsideItsDatasheetButOffItsChartLocks() {
    goodChecks(ReferenceUnitControlChart.FEWEST);
    floor.errorsPpm.put(CHECK, 40.0);
    floor.work(9, CHECK, "BX5-0001");
    BenchSelfCheck check = floor.shown(Checked.class).get(0).check();
    assertFalse(check.good());
    assertTrue(check.charted());
    assertTrue(
        check.findings().get(0).startsWith("current error of 1mA: 40.0000 ppm, its chart allows"),
        check.findings().toString());
    assertFalse(serials().contains("BX5-0001"));
  }

  @Test
  void afterAFailedCheckTheNextNeedsToKnowWhatWasDone() {
    floor.errorsPpm.put(CHECK, 170.0);
    floor.work(9, CHECK);
    floor.errorsPpm.put(CHECK, 0.0);
    floor.work(9, CHECK, "", CHECK, "cleaned the contacts");
    assertEquals(List.of("what was done about the failed check was not said."), reasons());
    assertEquals(
        Optional.of("cleaned the contacts"), floor.shown(Checked.class).get(0).board().cause());
  }

  @Test
  void aChartBeginsAnewWithAnotherSetUp() {
    goodChecks(ReferenceUnitControlChart.FEWEST);
    floor.errorsPpm.put(CHECK, 40.0);
    floor.work(9, "setup", "fixture 2", "cables 2", CHECK);
    BenchSelfCheck check = floor.shown(Checked.class).get(0).check();
    assertTrue(check.good());
    assertEquals(0, check.learnt());
  }

  @Test
  void limitsOfManyQuantitiesAreWiderThanThoseOfOne() {
    assertTrue(ReferenceUnitControlChart.factor(25, 20) > ReferenceUnitControlChart.factor(25, 1));
    // Student's t for 14 degrees of freedom at 99.73 %: 3.64; times sqrt(26/25).
    assertEquals(3.636 * Math.sqrt(1.04), ReferenceUnitControlChart.factor(25, 1), 0.02);
  }

  @Test
  void slotsAreTestedAfterTheirMapWasScannedTwice() {
    floor.work(
        9,
        List.of("left", "right"),
        CHECK,
        "left",
        "BX5-0001",
        "left",
        "BX5-0002",
        "right",
        "BX5-0001",
        "BX5-0002");
    assertEquals(
        List.of("BX5-0001 in left", "BX5-0002 in right"),
        floor.tested.stream()
            .filter(b -> b.purpose() == ProductionRunPurpose.BOARD)
            .map(b -> b.serial() + " in " + b.slot().orElse("none"))
            .toList());
  }

  @Test
  void aMapThatTheSecondScanDoesNotConfirmTestsNothing() {
    floor.work(
        9,
        List.of("left", "right"),
        CHECK,
        "left",
        "BX5-0001",
        "left",
        "BX5-0002",
        "right",
        "BX5-0002");
    assertEquals(List.of(CHECK), serials());
    assertEquals(
        List.of("slot left was to hold BX5-0001: the slot map is not confirmed."), reasons());
  }

  @Test
  void aSlotIsFilledOnceAndMustExist() {
    floor.work(
        9,
        List.of("left", "right"),
        CHECK,
        "left",
        "BX5-0001",
        "middle",
        "BX5-0001",
        "left",
        "BX5-0002",
        "left",
        "BX5-0001",
        "go",
        "BX5-0001");
    assertEquals(List.of(CHECK, "BX5-0001"), serials());
    assertEquals(
        List.of(
            "'middle' is no slot of this bench; it has left, right.",
            "slot left holds BX5-0001 already.",
            "it sits in another slot already."),
        reasons());
  }

  @Test
  void practiceAndProductionKnowNothingOfOneAnother() {
    floor.work(9, CHECK, "BX5-0001");
    floor.simulated("practice 1").work(9, CHECK, "BX5-0001");
    floor.simulated("practice 2").work(9, CHECK, "BX5-0001");
    assertEquals(3, serials().stream().filter("BX5-0001"::equals).count());
    assertEquals(List.of(), reasons());
  }
}
