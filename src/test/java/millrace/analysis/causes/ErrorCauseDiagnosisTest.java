// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import millrace.analysis.causes.BuiltUnit.Bench;
import millrace.analysis.causes.BuiltUnit.Fault;
import millrace.analysis.causes.Trial.Setting;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.Designs;
import millrace.analysis.uncertainty.Estimate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds single diagnoses against faults that were put in. */
class ErrorCauseDiagnosisTest {
  private static final double[] VOLTS = {0.05, 2, 4, 6};
  private static final double[] NIGHT = {10, 23, 40};
  private static final Setting GATE =
      new Setting("gate", Designs.decades(4, Designs.GATE, false), VOLTS, NIGHT);

  private static Cause first(Setting setting, Fault fault, long seed) {
    return Trial.diagnose(setting, fault, seed).causes().get(0);
  }

  @Test
  void aRangeResistorIsNamedWithItsSize() {
    Cause cause = first(GATE, new Fault(ErrorCause.RESISTOR, "R2", 4e-3), 11);
    assertEquals("range resistor R2", cause.name());
    Cause.Size size = cause.size().orElseThrow();
    assertEquals("ppm", size.unit());
    assertEquals(4000, size.value(), size.expandedUncertainty());
    assertTrue(cause.probability() > 0.95);
    assertEquals(List.of(), cause.notSeparableFrom());
    assertEquals(Optional.empty(), cause.separatedBy());
  }

  @Test
  void tooMuchResistanceIsPositiveAndMakesTooLittleCurrent() {
    ErrorCauseDiagnosis diagnosis =
        Trial.diagnose(GATE, new Fault(ErrorCause.RESISTOR, "R2", 4e-3), 11);
    ErrorCauseDiagnosis.Explained at = atShort(diagnosis, "1e-4A");
    assertTrue(at.measuredPpm() < -2500);
    assertEquals(-3984 - 1, at.byCause().get("range resistor R2"), 1200);
    assertEquals(-1, atShort(diagnosis, "1e-3A").byCause().get("range resistor R2"), 0.1);
  }

  private static ErrorCauseDiagnosis.Explained atShort(
      ErrorCauseDiagnosis diagnosis, String range) {
    return diagnosis.explained().stream()
        .filter(e -> e.range().equals(range) && e.degC() == 23 && e.terminalV() < 1)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aLeakageIsGivenAsTheResistanceThatIsThere() {
    Cause cause = first(GATE, new Fault(ErrorCause.LEAKAGE, "L1", 1 / 5e9), 3);
    assertEquals("leakage to ground L1", cause.name());
    assertEquals("ohm", cause.size().orElseThrow().unit());
    assertEquals(5e9, cause.size().orElseThrow().value(), 0.05e9);
  }

  @Test
  void aLeakageFarBeyondTheLinearIsFoundAndSized() {
    Cause cause = first(GATE, new Fault(ErrorCause.LEAKAGE, "L1", 1 / 40e6), 3);
    assertEquals("leakage to ground L1", cause.name());
    assertEquals(40e6, cause.size().orElseThrow().value(), 0.4e6);
  }

  /** The datasheet of a source without a stated leakage does not keep its board from leaking. */
  @Test
  void aLeakageIsFoundWhereNoneIsStated() {
    DesignCircuit stated = GATE.circuit();
    List<CauseObservation> leaking =
        new BuiltUnit(stated, new Fault(ErrorCause.LEAKAGE, "L1", 1 / 5e9), Bench.GOOD, 5)
            .measured(VOLTS, NIGHT);
    DesignCircuit unstated =
        new DesignCircuit(
            23,
            stated.ranges().stream()
                .map(r -> r.design())
                .map(
                    r ->
                        new millrace.analysis.design.RangeDesign(
                            r.name(),
                            r.nominalA(),
                            r.loadOhm(),
                            r.setVoltageV(),
                            r.reference(),
                            r.resistor(),
                            r.amplifier(),
                            r.passDevice(),
                            r.series(),
                            Optional.empty(),
                            r.supply(),
                            Optional.empty(),
                            List.of()))
                .toList(),
            stated.assumptions());
    assertEquals(
        "leakage to ground output",
        CauseDiagnoser.of(unstated, leaking, 0.9545, false).causes().get(0).name());
  }

  @Test
  void anEarlyKneeIsHeadroomNotCurrent() {
    Cause cause = first(GATE, new Fault(ErrorCause.KNEE, "", 5), 4);
    assertEquals("early knee", cause.cause());
    assertEquals("V", cause.size().orElseThrow().unit());
    assertEquals(5, cause.size().orElseThrow().value(), 1.5);
    assertEquals(
        Optional.of("measure the supply voltage of S1; then measure the voltage across D1"),
        cause.separatedBy());
  }

  @Test
  void aReferenceAndTheMeterCannotBeToldApartAndTheSetSaysWhatWould() {
    Setting equal =
        new Setting("equal", Designs.decades(2, Designs.BIPOLAR, false), VOLTS, new double[] {23});
    Cause cause = first(equal, new Fault(ErrorCause.METER, "DMM", 8e-3), 2);
    List<String> set = new ArrayList<>(cause.notSeparableFrom());
    set.add(cause.name());
    assertTrue(set.containsAll(List.of("meter gain DMM", "reference error REF")), set.toString());
    String words = cause.separatedBy().orElseThrow();
    assertTrue(words.contains("another meter"), words);
  }

  @Test
  void aRangeWithAnotherSetVoltageSeparatesTheOffsetFromTheReference() {
    DesignCircuit circuit = Designs.decades(3, Designs.GATE, false);
    Fault fault = new Fault(ErrorCause.OFFSET, "A1", 20e-3);
    List<CauseObservation> all =
        new BuiltUnit(circuit, fault, Bench.GOOD, 6).measured(VOLTS, new double[] {23});
    List<CauseObservation> some = all.stream().filter(o -> !range(o).equals("1e-5A")).toList();

    Cause before = CauseDiagnoser.of(circuit, some, 0.9545, false).causes().get(0);
    assertTrue(before.notSeparableFrom().size() >= 2, before.toString());
    assertEquals(Optional.of("measure the voltage across R3"), before.separatedBy());

    Cause after = CauseDiagnoser.of(circuit, all, 0.9545, false).causes().get(0);
    assertEquals("amplifier offset A1", after.name());
    assertTrue(!after.notSeparableFrom().contains("reference error REF"), after.toString());
  }

  @Test
  void whatIsSeenAtOneVoltageOnlyIsSeparatedByMeasuringAtAnother() {
    DesignCircuit circuit = Designs.decades(5, Designs.GATE, false);
    Fault fault = new Fault(ErrorCause.LEAKAGE, "L1", 1 / 5e9);
    double[] one = {4};
    double[] ambient = {23};
    Cause before =
        CauseDiagnoser.of(
                circuit,
                new BuiltUnit(circuit, fault, Bench.GOOD, 8).measured(one, ambient),
                0.95,
                false)
            .causes()
            .get(0);
    List<String> set = new ArrayList<>(before.notSeparableFrom());
    set.add(before.name());
    assertTrue(set.contains("leakage to ground L1") && set.size() > 1, set.toString());
    assertTrue(
        before
            .separatedBy()
            .orElseThrow()
            .startsWith("measure range 1e-7A at a terminal voltage of"),
        before.toString());

    Cause after =
        CauseDiagnoser.of(
                circuit,
                new BuiltUnit(circuit, fault, Bench.GOOD, 8).measured(new double[] {4, 9}, ambient),
                0.95,
                false)
            .causes()
            .get(0);
    assertEquals("leakage to ground L1", after.name());
    assertEquals(List.of(), after.notSeparableFrom());
  }

  @Test
  void twoFaultsAtOnceAreBothNamed() {
    DesignCircuit circuit = GATE.circuit();
    Fault resistor = new Fault(ErrorCause.RESISTOR, "R1", 8e-3);
    List<CauseObservation> observations =
        new ArrayList<>(new BuiltUnit(circuit, resistor, Bench.GOOD, 9).measured(VOLTS, NIGHT));
    Fault leak = new Fault(ErrorCause.LEAKAGE, "L1", 1 / 2e9);
    List<CauseObservation> other =
        new BuiltUnit(circuit, leak, Bench.GOOD, 10).measured(VOLTS, NIGHT);
    observations.removeIf(o -> !range(o).equals("1e-3A"));
    observations.addAll(other.stream().filter(o -> !range(o).equals("1e-3A")).toList());
    List<String> likely =
        CauseDiagnoser.of(circuit, observations, 0.9545, false).causes().stream()
            .filter(c -> c.probability() > 0.9)
            .map(Cause::name)
            .toList();
    assertTrue(
        likely.containsAll(List.of("range resistor R1", "leakage to ground L1")), "" + likely);
  }

  @Test
  void aGoodUnitHasNothingAbnormalAndIsExplained() {
    ErrorCauseDiagnosis diagnosis = Trial.diagnose(GATE, Trial.NONE, 1);
    assertEquals(Cause.NOTHING, diagnosis.causes().get(0).name());
    assertEquals(Optional.empty(), diagnosis.causes().get(0).size());
    assertTrue(diagnosis.unexplained().orElseThrow() < 1.5);
    assertTrue(diagnosis.notes().toString().contains("explain: it holds"), diagnosis.notes() + "");
  }

  /** Two currents that are both off by the same shared error are no evidence of two faults. */
  @Test
  void anErrorThatTheMeterSharesIsNoCauseInTheUnit() {
    Bench poor = new Bench(3e-3, 2e-6, 1e-12);
    int good = 0;
    for (int seed = 0; seed < 20; seed++) {
      List<CauseObservation> observations =
          new BuiltUnit(GATE.circuit(), Trial.NONE, poor, seed).measured(VOLTS, NIGHT);
      ErrorCauseDiagnosis diagnosis =
          CauseDiagnoser.of(GATE.circuit(), observations, 0.9545, false);
      good += diagnosis.causes().get(0).name().equals(Cause.NOTHING) ? 1 : 0;
    }
    assertTrue(good >= 19, good + " of 20");
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void theOrderOfObservationsDoesNotMatter(long seed) {
    Fault fault = new Fault(ErrorCause.REFERENCE, "REF", 6e-3);
    List<CauseObservation> observations =
        new BuiltUnit(GATE.circuit(), fault, Bench.GOOD, seed).measured(VOLTS, NIGHT);
    List<CauseObservation> shuffled = new ArrayList<>(observations);
    Collections.shuffle(shuffled, new Random(seed));
    Cause one = CauseDiagnoser.of(GATE.circuit(), observations, 0.9545, false).causes().get(0);
    Cause two = CauseDiagnoser.of(GATE.circuit(), shuffled, 0.9545, false).causes().get(0);
    assertEquals(one.name(), two.name());
    assertEquals(one.size().orElseThrow().value(), two.size().orElseThrow().value(), 1e-3);
  }

  @Test
  void theSizeIsInsideItsIntervalInMostUnits() {
    int inside = 0;
    for (int seed = 0; seed < 40; seed++) {
      Cause cause = first(GATE, new Fault(ErrorCause.RESISTOR, "R1", -5e-3), seed);
      Cause.Size size = cause.size().orElseThrow();
      inside += Math.abs(size.value() + 5000) <= size.expandedUncertainty() ? 1 : 0;
    }
    assertTrue(inside >= 35, inside + " of 40");
  }

  static Stream<List<CauseObservation>> unusable() {
    return Stream.of(
        List.of(),
        List.of(
            new CauseObservation.OfCurrent(
                "other", 1, 23, Estimate.exact(1e-3), "DMM", Optional.empty())),
        List.of(
            new CauseObservation.OfCurrent(
                "1e-3A", 1, 23, Estimate.exact(-1e-3), "DMM", Optional.empty())));
  }

  @ParameterizedTest
  @org.junit.jupiter.params.provider.MethodSource("unusable")
  void withoutAUsableCurrentItSaysWhy(List<CauseObservation> observations) {
    ErrorCauseDiagnosis diagnosis = CauseDiagnoser.of(GATE.circuit(), observations, 0.9545, false);
    assertEquals(List.of(), diagnosis.causes());
    assertTrue(diagnosis.notes().toString().contains("no cause can be found"));
  }

  @Test
  void oneCurrentAloneGivesASetOrNothing() {
    List<CauseObservation> one =
        List.of(
            new CauseObservation.OfCurrent(
                "1e-3A", 0, 23, Estimate.exact(1.05e-3), "DMM", Optional.empty()));
    Cause cause = CauseDiagnoser.of(GATE.circuit(), one, 0.9545, false).causes().get(0);
    assertTrue(cause.notSeparableFrom().size() > 2, cause.toString());
  }

  @Test
  void moreObservationsThanItTakesAreThinnedAndNoted() {
    double[] many = new double[60];
    for (int i = 0; i < many.length; i++) {
      many[i] = 0.1 * i;
    }
    Setting wide = new Setting("wide", GATE.circuit(), many, NIGHT);
    ErrorCauseDiagnosis diagnosis =
        Trial.diagnose(wide, new Fault(ErrorCause.RESISTOR, "R3", 4e-3), 1);
    assertEquals("range resistor R3", diagnosis.causes().get(0).name());
    assertTrue(diagnosis.notes().contains("400 of 720 currents used, evenly spread"));
  }

  /** 10 Mohm that take V/10 Mohm at every temperature, where a leakage would double in 10 K. */
  @Test
  void aVoltmeterUpstreamThatTakesMoreThanItsBenchFileSaysIsNamed() {
    List<CauseObservation> seen = new ArrayList<>();
    for (CauseObservation o :
        new BuiltUnit(GATE.circuit(), Trial.NONE, Bench.GOOD, 12).measured(VOLTS, NIGHT)) {
      seen.add(o instanceof CauseObservation.OfCurrent c ? beside10Mohm(c) : o);
    }
    Cause cause = CauseDiagnoser.of(GATE.circuit(), seen, 0.9545, true).causes().get(0);
    assertEquals("voltmeter input resistance voltmeter", cause.name());
    assertEquals(10e6, cause.size().orElseThrow().value(), 0.05e6);
    assertEquals(List.of(), cause.notSeparableFrom());
  }

  private static CauseObservation beside10Mohm(CauseObservation.OfCurrent c) {
    Estimate less = c.current().plus(-c.terminalV() / 10e6);
    return new CauseObservation.OfCurrent(
        c.range(), c.terminalV(), c.degC(), less, c.meter(), Optional.empty());
  }

  private static String range(CauseObservation observation) {
    return observation instanceof CauseObservation.OfCurrent c
        ? c.range()
        : ((CauseObservation.OfCompliance) observation).range();
  }
}
