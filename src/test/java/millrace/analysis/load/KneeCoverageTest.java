// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.random.RandomGenerator;
import java.util.stream.Stream;
import millrace.analysis.load.Sweeps.Bench;
import millrace.analysis.load.Sweeps.Truth;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/**
 * How often the interval of a compliance voltage holds the truth, how wide it is beside twice the
 * rms error and how far the value is biased, over knees of several shapes, loads that lie anywhere
 * about them, and noise from a thousandth of the criterion to a tenth of it (methods.md 3.3).
 */
class KneeCoverageTest {
  /** Sets a case of the campaign. */
  private static final int SETS = Integer.getInteger("millrace.sets", 2000);

  private static final double I0 = 1e-3;
  private static final double G = 2e-9;
  private static final double[] NOISE_PPM = {0.1, 1, 3, 10, 30, 100, 300};
  private static final LoadSweepRequest QUESTION =
      LoadSweepRequest.of("1mA", I0, 0.9545).withCompliance(OptionalDouble.of(9), 1e-3, true);

  /** What a current does when the headroom is used up. */
  private enum Knee {
    /** Two lines. */
    SHARP,
    /** Two lines blended over 0.05 V. */
    BLENDED,
    /** The same over 0.3 V. */
    WIDE,
    /** A bipolar transistor that saturates: what is left falls exponentially. */
    SATURATING,
    /** A field-effect transistor in its resistive region: a parabola, 1 V wide. */
    PARABOLA;

    Truth at(double v) {
      return switch (this) {
        case SHARP -> Sweeps.sharp(I0, G, v, 500);
        case BLENDED -> Sweeps.rounded(I0, G, v, 500, 0.05);
        case WIDE -> Sweeps.rounded(I0, G, v, 500, 0.3);
        case SATURATING -> Sweeps.collapsing(I0, G, v, 0.1);
        case PARABOLA ->
            new Truth(
                x -> (I0 - G * x) * (1 - Math.pow(Math.max(0, Math.min(1, x - v + 1)), 2)), v);
      };
    }
  }

  /** What was counted of one knee at one noise. */
  private static final class Counted {
    private final List<Double> errors = new ArrayList<>();
    private final List<Double> widths = new ArrayList<>();
    private double squaredShares;
    private int inside;

    void add(ComputationOutcome.Value value, double truth) {
      ComputationOutcome.Uncertainty u = value.uncertainty().orElseThrow();
      inside += u.lower() <= truth && truth <= u.upper() ? 1 : 0;
      double error = value.value() - truth;
      errors.add(error);
      squaredShares += Math.pow(error / u.expanded(), 2);
      widths.add(u.expanded());
    }

    void addAll(Counted other) {
      errors.addAll(other.errors);
      widths.addAll(other.widths);
      squaredShares += other.squaredShares;
      inside += other.inside;
    }

    double coverage() {
      return (double) inside / errors.size();
    }

    double bias() {
      return errors.stream().mapToDouble(e -> e).sum() / errors.size();
    }

    double rms() {
      return Math.sqrt(errors.stream().mapToDouble(e -> e * e).sum() / errors.size());
    }

    double biasOverScatter() {
      return bias() / Math.sqrt(rms() * rms() - bias() * bias());
    }

    /** U beside twice the rms of errors, set by set: the inverse of 2 rms(error/U). */
    double width() {
      return 0.5 / Math.sqrt(squaredShares / errors.size());
    }

    double medianU() {
      Collections.sort(widths);
      return widths.get(widths.size() / 2);
    }

    String line(Knee knee, double ppm) {
      return String.join(
          ",",
          knee.name().toLowerCase(Locale.ROOT),
          NumberText.significant(ppm, 2),
          Integer.toString(errors.size()),
          NumberText.fixed(100 * coverage(), 1),
          NumberText.significant(rms(), 3),
          NumberText.significant(medianU(), 3),
          NumberText.fixed(width(), 2),
          NumberText.fixed(biasOverScatter(), 2));
    }
  }

  /** The same units at every noise. */
  private static Counted counted(Knee knee, int loads, double ppm, int sets) {
    RandomGenerator units = new Seeds(33).stream(knee.name());
    RandomGenerator chance = new Seeds(34).stream(knee.name() + ppm);
    Counted counted = new Counted();
    double[] ohm = Sweeps.upAndDown(Sweeps.loads(13e3, loads));
    for (int k = 0; k < sets; k++) {
      Truth truth = knee.at(9 + 2 * units.nextDouble());
      double exact = truth.fallenBy(QUESTION.criterion(), v -> I0 - G * v);
      LoadResults.of(swept(truth, ohm, ppm * 1e-6, chance), QUESTION).stream()
          .filter(r -> r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)
          .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
          .forEach(r -> counted.add((ComputationOutcome.Value) r.outcome(), exact));
    }
    return counted;
  }

  /** Current and voltage each have their own noise, the latter in ppm of the reading. */
  private static List<LoadPoint> swept(
      Truth truth, double[] loadsOhm, double noise, RandomGenerator chance) {
    Bench bench = Bench.noisy(noise * I0);
    return Sweeps.measured(truth, loadsOhm, bench, chance).stream()
        .map(p -> noisy(p, noise * p.voltageV().value(), chance))
        .toList();
  }

  private static LoadPoint noisy(LoadPoint p, double uV, RandomGenerator chance) {
    Estimate volts =
        p.voltageV()
            .plus(uV * chance.nextGaussian())
            .with(ErrorSource.normal("voltmeter noise", ErrorSource.POINT, p.key(), uV, "V"), 1);
    return new LoadPoint(p.key(), volts, p.currentA(), p.loadOhm(), p.timeS(), false, false);
  }

  /** Counts, writes the figures down, and asserts them. */
  private static void study(String form, int loads, double[] noisePpm, int sets) {
    List<String> lines = new ArrayList<>();
    lines.add(
        "knee,noise_ppm,values,coverage_percent,rms_V,median_U_V,U_over_2_rms,bias_over_scatter");
    Counted soft = new Counted();
    List<Executable> checks = new ArrayList<>();
    for (Knee knee : Knee.values()) {
      double lastU = 0;
      for (double ppm : noisePpm) {
        Counted counted = counted(knee, loads, ppm, sets);
        String line = counted.line(knee, ppm);
        lines.add(line);
        double least = 0.94 - 3 * Math.sqrt(0.94 * 0.06 / sets);
        double before = lastU;
        checks.add(() -> assertTrue(counted.errors.size() >= 0.98 * sets, line));
        checks.add(() -> assertTrue(counted.coverage() >= least, line));
        checks.add(
            () ->
                assertTrue(
                    counted.width() > 0.4 && counted.width() < (knee == Knee.SHARP ? 5 : 2.3),
                    line));
        checks.add(() -> assertTrue(counted.medianU() >= 0.95 * before, line));
        lastU = counted.medianU();
        soft.addAll(knee == Knee.SHARP ? new Counted() : counted);
      }
    }
    lines.add(soft.line(Knee.values()[0], 0).replaceFirst("^[^,]*,[^,]*", "all soft,all"));
    checks.add(() -> assertTrue(Math.abs(soft.biasOverScatter()) < 1.0 / 3, lines.toString()));
    write(form, lines);
    assertAll(checks);
  }

  private static void write(String form, List<String> lines) {
    try {
      Path folder = Files.createDirectories(Path.of("target", "coverage"));
      Files.write(folder.resolve("knee-" + form + ".csv"), lines);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void aFewSets() {
    study("short", 27, new double[] {1, 30, 300}, 60);
  }

  @Tag("campaign")
  @Test
  void twoThousandSets() {
    study("27-loads", 27, NOISE_PPM, SETS);
    study("53-loads", 53, NOISE_PPM, SETS);
  }

  /** The degrees of freedom of the ends of the enclosure. */
  private static List<OptionalDouble> endsOf(double[] loadsOhm) {
    Bench drifting = Bench.noisy(1e-10).withDrift(1e-11);
    List<LoadPoint> points =
        Sweeps.measured(Knee.SATURATING.at(10), loadsOhm, drifting, new Seeds(5).stream("repeats"));
    return LoadResults.of(points, QUESTION).stream()
        .filter(r -> r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)
        .flatMap(r -> r.budget().stream())
        .filter(c -> c.component().contains(" end: "))
        .map(BudgetComponent::degreesOfFreedom)
        .toList();
  }

  /** Two loads tell each end, each by three visits: two to four degrees of freedom. */
  @Test
  void visitsThatDifferTellTheirEndsByFewDegreesOfFreedom() {
    double[] once = Sweeps.loads(12e3, 40);
    double[] thrice = Stream.of(once, once, once).flatMapToDouble(Arrays::stream).toArray();
    assertEquals(List.of(OptionalDouble.empty(), OptionalDouble.empty()), endsOf(once));
    List<OptionalDouble> ends = endsOf(thrice);
    assertEquals(2, ends.size());
    for (OptionalDouble end : ends) {
      assertEquals(3, end.orElseThrow(), 1);
    }
  }
}
