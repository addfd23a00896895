// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import millrace.analysis.reduction.CurrentReductionInputs;
import millrace.analysis.reduction.LeadReversedReading;
import millrace.analysis.reduction.MeanMeterReading;
import millrace.analysis.reduction.MeterErrors;
import millrace.analysis.reduction.PointReductionInputs;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.noise.NoisePools;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TemperatureStayNumbers;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Reduces readings that were taken on a bench: accuracy statements, certificates, zeros, burden and
 * wiring come from the bench file (methods.md 1 and 2). An instrument's error on several readings
 * is one error, so it cancels in ratios and differences.
 */
public final class BenchReadingReduction implements ReadingReduction {
  private final BenchFile bench;
  private final Optional<ShuntCurrentReduction> shunt;
  private final StatedMeterErrors current;
  private final StatedMeterErrors voltage;
  private final Map<String, TreeMap<Long, PointReadingTally>> zeros = new HashMap<>();
  private final NoisePools pools;
  private final TemperatureStayNumbers stays;
  private final OptionalDouble usualLabDegC;
  private final CheckStandards standards;
  private final LoopErrors loop;
  private final Map<MeasuredSignal, Double> offsets = new EnumMap<>(MeasuredSignal.class);
  private final Set<String> notes = new LinkedHashSet<>();

  /**
   * A reduction for one run.
   *
   * @param bench the bench file that counts
   * @param tallies its readings
   * @param slow joint noise estimate of its readings
   */
  public BenchReadingReduction(BenchFile bench, RunReadingTallies tallies, ReadingNoise slow) {
    this.bench = bench;
    this.loop = new LoopErrors(bench.wiring());
    this.shunt = ShuntCurrentReduction.of(bench);
    this.current =
        shunt.isPresent()
            ? new StatedMeterErrors(
                bench, RoleName.SHUNT_VOLTMETER, MeasuredSignal.SHUNT_VOLTAGE, "V")
            : new StatedMeterErrors(bench, RoleName.CURRENT_METER, MeasuredSignal.CURRENT, "A");
    this.voltage = new StatedMeterErrors(bench, RoleName.VOLTMETER, MeasuredSignal.VOLTAGE, "V");
    this.pools = new NoisePools(tallies, slow);
    this.stays = new TemperatureStayNumbers(tallies.points());
    this.usualLabDegC =
        tallies.points().stream()
            .map(t -> t.mean(MeasuredSignal.LAB_TEMPERATURE))
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .average();
    for (PointReadingTally zero : tallies.points(PointKind.ZERO)) {
      if (zero.point().state() == PointState.FLAGGED) {
        continue; // the run did not use it
      }
      zeros
          .computeIfAbsent(zero.point().settings().currentMeter().range(), r -> new TreeMap<>())
          .put(zero.point().id(), zero);
    }
    this.standards =
        new CheckStandards(
            bench, tallies, t -> metered(t, t.of(MeasuredSignal.CURRENT).orElseThrow()));
    notes.addAll(standards.notes());
  }

  @Override
  public Optional<ReducedPoint> of(PointReadingTally tally) {
    Optional<ReadingStatistics> readings = tally.of(MeasuredSignal.CURRENT);
    if (readings.isEmpty()) {
      return Optional.empty();
    }
    PointReductionInputs facts = facts(tally, readings.get());
    note(MeasuredSignal.CURRENT, facts.current().reading());
    Optional<PointReductionInputs.Found> found = facts.found();
    if (found.isEmpty()) {
      String range = tally.point().conditions().range().map(r -> "range " + r + ": ").orElse("");
      notes.add(range + whyNot(facts.current()));
      return Optional.empty();
    }
    List<String> own = new ArrayList<>();
    suspects(tally, own);
    facts.voltage().ifPresent(v -> note(MeasuredSignal.VOLTAGE, v.reading()));
    Estimate volts = found.get().voltageV();
    int stay = stays.of(tally.point());
    Estimate zeroed =
        connectedZero(tally)
            ? loop.zeroed(found.get().currentA(), stay, tally.point())
            : found.get().currentA();
    return Optional.of(
        new ReducedPoint(
            tally.point(),
            tally.name(),
            stay,
            tally.timeS(),
            loop.added(zeroed, volts.value(), stay, tally.point()),
            volts,
            temperatureDegC(tally),
            pools.of(tally.point(), MeasuredSignal.CURRENT).unsteady(readings.get()),
            own));
  }

  private String whyNot(CurrentReductionInputs current) {
    return current.withinCertificate()
        ? "the temperature of the shunt was not read: such points are left out"
        : "readings lie beyond the corrections of the meter's certificate: such points are left"
            + " out";
  }

  /** Keeps the part that did not reverse with the leads, the largest of each signal. */
  private void note(MeasuredSignal signal, LeadReversedReading reading) {
    reading
        .offset()
        .ifPresent(
            offset -> offsets.merge(signal, offset, (a, b) -> Math.abs(a) > Math.abs(b) ? a : b));
  }

  private static void suspects(PointReadingTally tally, List<String> own) {
    ReadingStatistics all = tally.withSuspects().get(MeasuredSignal.CURRENT);
    ReadingStatistics good = tally.signals().get(MeasuredSignal.CURRENT);
    if (all != null && good != null && all.n() > good.n()) {
      long off = all.n() - good.n();
      own.add(
          "%s %s off %s left out: the mean with %s is %s, without %s"
              .formatted(
                  off,
                  off == 1 ? "reading" : "readings",
                  off == 1 ? "its neighbours is" : "their neighbours are",
                  off == 1 ? "it" : "them",
                  QuantityText.print(all.mean(), Dimension.CURRENT, 8),
                  QuantityText.print(good.mean(), Dimension.CURRENT, 8)));
    }
  }

  /** Whether its zero was taken with the unit in the loop: that error cannot be corrected. */
  private boolean connectedZero(PointReadingTally tally) {
    return tally.zero().isPresent()
        && tally.of(MeasuredSignal.REVERSED_CURRENT).isEmpty()
        && bench.in(RoleName.SWITCH).isEmpty();
  }

  /** All data of a point from the logbook and the bench file. */
  private PointReductionInputs facts(PointReadingTally tally, ReadingStatistics readings) {
    double shown = readings.mean() * perAmpere(tally.point());
    String range = tally.point().settings().currentMeter().range();
    Estimate burden =
        shunt.map(ShuntCurrentReduction::ohm).orElseGet(() -> current.burdenOhm(shown, range));
    return new PointReductionInputs(
        currentFacts(tally, readings),
        standards.drift(tally.point(), tally.timeS()),
        burden.plus(bench.wiring().leadsOhm()),
        loadOhm(tally),
        tally.of(MeasuredSignal.VOLTAGE).map(volts -> voltage(tally, volts)));
  }

  /** The inputs of the current through the meter: readings, zero, certificate, shunt. */
  private CurrentReductionInputs currentFacts(PointReadingTally tally, ReadingStatistics readings) {
    PooledNoise noise = pools.of(tally.point(), MeasuredSignal.CURRENT);
    notes.addAll(noise.notes());
    String range = tally.point().settings().currentMeter().range();
    double shown = readings.mean() * perAmpere(tally.point());
    notes.addAll(current.notes(shown, range));
    boolean reversed = tally.of(MeasuredSignal.REVERSED_CURRENT).isPresent();
    return new CurrentReductionInputs(
        paired(tally, MeasuredSignal.CURRENT, current),
        reversed
            ? new CurrentReductionInputs.Zero(0, Optional.empty())
            : zero(tally, range, lab(tally)),
        current.corrections(shown, range),
        shunt.map(
            s ->
                s.at(
                    readDegC(tally, RoleName.SHUNT_THERMOMETER),
                    current.inputOhm(
                        shown, range, tally.point().settings().currentMeter().inputOhm()))));
  }

  /** The current through the meter alone. */
  private Optional<Estimate> metered(PointReadingTally tally, ReadingStatistics readings) {
    CurrentReductionInputs facts = currentFacts(tally, readings);
    Optional<Estimate> amperes = facts.currentA();
    note(MeasuredSignal.CURRENT, facts.reading());
    if (amperes.isEmpty()) {
      notes.add(whyNot(facts));
    }
    return amperes;
  }

  /** The meter's indication per ampere of the run: 1, or the voltage of a shunt. */
  private double perAmpere(Point point) {
    return shunt.map(s -> s.countedOhm(point)).orElse(1.0);
  }

  private LeadReversedReading paired(
      PointReadingTally tally, MeasuredSignal signal, StatedMeterErrors chain) {
    return new LeadReversedReading(
        reading(tally, signal, chain),
        tally.of(signal.reversed()).map(r -> reading(tally, signal.reversed(), chain)));
  }

  private MeanMeterReading reading(
      PointReadingTally tally, MeasuredSignal signal, StatedMeterErrors chain) {
    String name = tally.name() + (signal.forward() == signal ? "" : " reversed");
    String range = tally.point().meter(signal).range();
    boolean amperes = signal.forward() == MeasuredSignal.CURRENT;
    Estimate mean =
        pools
            .of(tally.point(), signal)
            .mean(
                tally.of(signal).orElseThrow(), name + (amperes ? "" : " V"), amperes ? "A" : "V");
    Estimate shown = amperes ? mean.times(perAmpere(tally.point())) : mean;
    return chain.reading(shown, range, name, lab(tally));
  }

  /** The part that did not reverse with the leads: the meters' offsets and thermal voltages. */
  private void offsetNotes(Set<String> all) {
    offsets.forEach(
        (signal, offset) ->
            all.add(
                "readings both ways round: what does not turn with the unit's leads (the meter's offset, thermal voltages) came to %s in the %s at most, and cancels"
                    .formatted(
                        QuantityText.print(
                            offset,
                            (signal == MeasuredSignal.CURRENT ? current : voltage).dimension(),
                            3),
                        signal.text())));
  }

  /** The zero that counts: the last one in the same range of the meter before the point. */
  private CurrentReductionInputs.Zero zero(
      PointReadingTally tally, String range, Optional<MeterErrors.Lab> lab) {
    double kept = tally.zero().orElse(0) * perAmpere(tally.point());
    Map.Entry<Long, PointReadingTally> found =
        zeros.getOrDefault(range, new TreeMap<>()).lowerEntry(tally.point().id());
    boolean read = tally.zero().isPresent() && found != null;
    return new CurrentReductionInputs.Zero(
        kept,
        read
            ? found
                .getValue()
                .of(MeasuredSignal.CURRENT)
                .map(r -> zero(found.getValue(), r, range, lab))
            : Optional.empty());
  }

  private MeanMeterReading zero(
      PointReadingTally zero,
      ReadingStatistics readings,
      String range,
      Optional<MeterErrors.Lab> lab) {
    double u = pools.of(zero.point(), MeasuredSignal.CURRENT).meanUncertainty(readings.n());
    Estimate mean =
        Estimate.exact(readings.mean())
            .with(ErrorSource.normal("zero reading", ErrorSource.ZERO, zero.name(), u, "A"), 1);
    return current.reading(mean.times(perAmpere(zero.point())), range, zero.name(), lab);
  }

  private Optional<MeterErrors.Lab> lab(PointReadingTally tally) {
    OptionalDouble now = tally.mean(MeasuredSignal.LAB_TEMPERATURE);
    return now.isPresent() && usualLabDegC.isPresent()
        ? Optional.of(new MeterErrors.Lab(now.getAsDouble(), usualLabDegC.getAsDouble()))
        : Optional.empty();
  }

  private PointReductionInputs.Voltage voltage(PointReadingTally tally, ReadingStatistics volts) {
    String range = tally.point().settings().voltmeter().range();
    LeadReversedReading reading = paired(tally, MeasuredSignal.VOLTAGE, voltage);
    boolean upstream =
        bench.wiring().voltmeter().orElse(BenchFile.VoltmeterPlace.ACROSS_LOAD)
            == BenchFile.VoltmeterPlace.UPSTREAM;
    if (!upstream) {
      return new PointReductionInputs.Voltage(reading, false, Optional.empty());
    }
    OptionalDouble said = tally.point().settings().voltmeter().inputOhm();
    voltage.otherInput(volts.mean(), range, said).ifPresent(notes::add);
    Optional<Estimate> input = voltage.inputOhm(volts.mean(), range, said);
    if (input.isEmpty()) {
      notes.add(
          "the voltmeter sits upstream and the bench file states no input resistance:"
              + " what it takes is not added back");
    }
    return new PointReductionInputs.Voltage(reading, true, input);
  }

  /** The load setting, with the statements of the bench file. */
  private Estimate loadOhm(PointReadingTally tally) {
    double ohm = tally.point().conditions().loadOhm().orElse(0);
    return bench
        .facts(RoleName.LOAD)
        .map(
            facts ->
                StatedLoadResistance.ohm(facts, ohm, tally.mean(MeasuredSignal.LAB_TEMPERATURE)))
        .orElse(Estimate.exact(ohm));
  }

  /** Offset and scale of a thermometer; the scale alone enters a slope (methods.md 5.8). */
  private static Estimate thermometer(Estimate degC, AccuracyStatement stated, String instance) {
    String group = ErrorSource.INSTRUMENT_AND_RANGE;
    return degC.with(ErrorSource.within("thermometer", group, instance, stated.absolute(), "K"), 1)
        .with(
            ErrorSource.within("thermometer scale", group, instance, stated.ofReading(), "K/K"),
            degC.value());
  }

  /** The thermometer at the unit, else the chamber's (methods.md 5.1). */
  private Optional<Estimate> temperatureDegC(PointReadingTally tally) {
    OptionalDouble asked = tally.point().conditions().temperatureDegC();
    return readDegC(tally, RoleName.UNIT_THERMOMETER)
        .or(() -> readDegC(tally, RoleName.CHAMBER))
        .or(() -> asked.stream().mapToObj(Estimate::exact).findFirst());
  }

  private Optional<Estimate> readDegC(PointReadingTally tally, RoleName role) {
    MeasuredSignal signal = role.signal().orElseThrow();
    AccuracyStatement stated =
        bench
            .facts(role)
            .flatMap(f -> f.accuracy().stream().findFirst())
            .orElse(AccuracyStatement.NONE);
    return tally
        .of(signal)
        .map(read -> pools.of(tally.point(), signal).mean(read, named(tally, role), "K"))
        .map(noisy -> thermometer(noisy, stated, role.text()));
  }

  private static String named(PointReadingTally tally, RoleName role) {
    return tally.name() + (role == RoleName.SHUNT_THERMOMETER ? " shunt" : "") + " T";
  }

  @Override
  public Optional<Estimate> meterPerHour(Point point, double fromS, double toS) {
    return standards.perHour(point, fromS, toS);
  }

  @Override
  public List<String> notes() {
    Set<String> all = new LinkedHashSet<>(notes);
    all.addAll(loop.notes());
    offsetNotes(all);
    return List.copyOf(all);
  }
}
