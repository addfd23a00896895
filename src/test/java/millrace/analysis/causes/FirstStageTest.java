// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.analysis.design.DesignAssumptions;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignDeviation;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.Designs;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/**
 * A two-stage source: 2.5 V over RS sets a current, RT drops it (RT1 for the upper ranges, RT1 and
 * RT2 for the lower), a second amplifier copies the drop across a tapped string. Currents are
 * worked out by Ohm's law here.
 */
class FirstStageTest {
  private static final double REF_V = 2.5;
  private static final DesignPart.Amplifier A0 =
      new DesignPart.Amplifier("A0", 30e-6, 0.3e-6, 0, 1e7);
  private static final DesignPart.Amplifier A1 =
      new DesignPart.Amplifier("A1", 30e-6, 0.3e-6, 0, 1e7);
  private static final double[] NIGHT = {10, 23, 40};

  /** What a unit is made of, each as it is. */
  private record Built(double ref, double rs, double[] rt, double[] string, double v0, double v1) {
    static Built good() {
      return new Built(
          REF_V, 10e3, new double[] {2e3, 18e3}, new double[] {500, 4.5e3, 45e3}, 0, 0);
    }

    /** The current with one top resistor or two, and so many resistors of the string. */
    double currentA(int tops, int taps) {
      double top = rt[0] + (tops > 1 ? rt[1] : 0);
      double ohm = 0;
      for (int i = 0; i < taps; i++) {
        ohm += string[i];
      }
      return ((ref + v0) / rs * top + v1) / ohm;
    }
  }

  private static final int[][] TOPS_AND_TAPS = {{1, 1}, {1, 2}, {2, 2}, {2, 3}};

  private static DesignPart.Resistor resistor(String name, double ohm) {
    return new DesignPart.Resistor(name, ohm, 100e-6, 2e-6, Optional.empty(), Optional.empty());
  }

  private static RangeDesign design(int tops, int taps) {
    Built good = Built.good();
    List<DesignPart.Resistor> top = new ArrayList<>(List.of(resistor("RT1", 2e3)));
    if (tops > 1) {
      top.add(resistor("RT2", 18e3));
    }
    List<DesignPart.Resistor> rest =
        List.of(resistor("R2", 4.5e3), resistor("R3", 45e3)).subList(0, taps - 1);
    double nominal = good.currentA(tops, taps);
    return new RangeDesign(
        tops + "/" + taps,
        nominal,
        0,
        tops > 1 ? 5 : 0.5,
        Designs.REF,
        resistor("R1", 500),
        Optional.of(A1),
        Optional.of(Designs.GATE),
        List.of(),
        Optional.empty(),
        Optional.of(Designs.S1),
        Optional.of(
            new DesignPart.FirstStage(
                "first stage", REF_V, resistor("RS", 10e3), top, Optional.of(A0))),
        rest);
  }

  private static DesignCircuit circuit() {
    List<RangeDesign> ranges = new ArrayList<>();
    for (int[] each : TOPS_AND_TAPS) {
      ranges.add(design(each[0], each[1]));
    }
    return new DesignCircuit(23, ranges, DesignAssumptions.USUAL);
  }

  private static List<CauseObservation> measured(Built unit) {
    SplittableRandom chance = new Seeds(21).stream("first stage");
    List<CauseObservation> all = new ArrayList<>();
    for (int[] each : TOPS_AND_TAPS) {
      double nominal = Built.good().currentA(each[0], each[1]);
      for (double degC : NIGHT) {
        for (double v : new double[] {0.05, 2, 4}) {
          String name = each[0] + "/" + each[1];
          double u = 2e-6 * nominal;
          ErrorSource own = ErrorSource.normal("noise", ErrorSource.POINT, name + degC + v, u, "A");
          double amperes = unit.currentA(each[0], each[1]) + u * chance.nextGaussian();
          Estimate current = Estimate.exact(amperes).with(own, 1);
          all.add(new CauseObservation.OfCurrent(name, v, degC, current, "DMM", Optional.empty()));
        }
      }
    }
    return all;
  }

  private static List<String> told(Built unit) {
    Cause first = CauseDiagnoser.of(circuit(), measured(unit), 0.9545, false).causes().get(0);
    List<String> told = new ArrayList<>(List.of(first.name()));
    told.addAll(first.notSeparableFrom());
    return told;
  }

  @Test
  void everyDeviationMovesTheCurrentAsOhmsLawSays() {
    DesignCircuit circuit = circuit();
    double off = 1e-3;
    Built b = Built.good();
    for (int[] each : TOPS_AND_TAPS) {
      RangeCircuitModel range = circuit.range(each[0] + "/" + each[1]).orElseThrow();
      double before = range.currentA(0, 23, new double[circuit.deviations().size()]);
      for (DesignDeviation d : notEmpty(circuit.deviations())) {
        Built one =
            switch (d.kind() + " " + d.of()) {
              case "REFERENCE REF" ->
                  new Built(REF_V * (1 + off), b.rs(), b.rt(), b.string(), 0, 0);
              case "RESISTOR RS" -> new Built(REF_V, b.rs() * (1 + off), b.rt(), b.string(), 0, 0);
              case "RESISTOR RT1" ->
                  new Built(REF_V, b.rs(), new double[] {2e3 * (1 + off), 18e3}, b.string(), 0, 0);
              case "RESISTOR R2" ->
                  new Built(
                      REF_V, b.rs(), b.rt(), new double[] {500, 4.5e3 * (1 + off), 45e3}, 0, 0);
              case "OFFSET A0" -> new Built(REF_V, b.rs(), b.rt(), b.string(), off, 0);
              case "OFFSET A1" -> new Built(REF_V, b.rs(), b.rt(), b.string(), 0, off);
              default -> b;
            };
        if (one != b) {
          double[] x = new double[circuit.deviations().size()];
          x[circuit.indexOf(d.kind(), d.of())] = off;
          double worked = one.currentA(each[0], each[1]) / b.currentA(each[0], each[1]);
          assertEquals(worked, range.currentA(0, 23, x) / before, 1e-9, d + " " + range.design());
        }
      }
    }
  }

  @Test
  void aTapThatIsOffIsNamed() {
    Built b = Built.good();
    Built off = new Built(REF_V, b.rs(), b.rt(), new double[] {500, 4.5e3 * 1.003, 45e3}, 0, 0);
    assertEquals("range resistor R2", told(off).get(0));
  }

  @Test
  void aTopResistorThatIsOffIsNamed() {
    Built b = Built.good();
    Built off = new Built(REF_V, b.rs(), new double[] {2e3, 18e3 * 1.003}, b.string(), 0, 0);
    assertEquals("range resistor RT2", told(off).get(0));
  }

  /** 0.6 mV of 0.5 V, and a tenth of that of 5 V: so does a first top resistor 1,200 ppm off. */
  @Test
  void theSecondAmplifiersOffsetAndTheFirstTopResistorAreOneSet() {
    Built b = Built.good();
    List<String> told = told(new Built(REF_V, b.rs(), b.rt(), b.string(), 0, 600e-6));
    assertTrue(told.containsAll(List.of("amplifier offset A1", "range resistor RT1")), "" + told);
  }

  /** All currents alike: from outside nobody tells the reference from what it lies across. */
  @Test
  void whatMovesAllRangesAlikeStaysOneSet() {
    Built b = Built.good();
    List<String> told = told(new Built(REF_V, b.rs() * 1.003, b.rt(), b.string(), 0, 0));
    assertTrue(told.containsAll(List.of("range resistor RS", "reference error REF")), "" + told);
  }

  @Test
  void aStatedCurvatureIsTheRootOfTheSumOfSquares() {
    RangeDesign plain = design(1, 2);
    assertEquals(Optional.empty(), plain.statedCurvaturePerK2());
    DesignPart.Reference ref = new DesignPart.Reference("REF", 0, 0, Optional.of(0.3e-6));
    DesignPart.Resistor flat =
        new DesignPart.Resistor("R", 1e3, 0, 0, Optional.of(0.4e-6), Optional.empty());
    RangeDesign stated =
        new RangeDesign(
            "1mA",
            1e-3,
            0,
            1,
            ref,
            flat,
            Optional.empty(),
            Optional.empty(),
            List.of(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            List.of());
    assertEquals(0.5e-6 / Math.sqrt(3), stated.statedCurvaturePerK2().orElseThrow(), 1e-15);
  }
}
