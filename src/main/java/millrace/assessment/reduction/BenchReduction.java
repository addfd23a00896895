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
import millrace.analysis.reduction.CurrentFacts;
import millrace.analysis.reduction.MeterErrors;
import millrace.analysis.reduction.MeterReading;
import millrace.analysis.reduction.PairedReading;
import millrace.analysis.reduction.PointFacts;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;
import millrace.assessment.noise.Pools;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.tally.MeterSettings;
import millrace.assessment.tally.PointTally;
import millrace.assessment.tally.StayNumbers;
import millrace.assessment.tally.Tallies;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.calibration.Accuracy;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Signal;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;

/**
 * Reduces readings that were taken on a bench: accuracy statements, certificates, zeros, burden and
 * wiring come from the bench file (methods.md 1 and 2). What one instrument does to several
 * readings is one error, and cancels where it may.
 */
public final class BenchReduction implements Reduction {
  private final BenchFile bench;
  private final Optional<ShuntPath> shunt;
  private final Chain current;
  private final Chain voltage;
  private final Map<String, TreeMap<Long, PointTally>> zeros = new HashMap<>();
  private final Pools pools;
  private final StayNumbers stays;
  private final OptionalDouble usualLabDegC;
  private final CheckStandards standards;
  private final LoopErrors loop;
  private final Map<Signal, Double> offsets = new EnumMap<>(Signal.class);
  private final Set<String> notes = new LinkedHashSet<>();

  /**
   * A reduction for one run.
   *
   * @param bench the bench file that counts
   * @param tallies its readings
   * @param slow what its readings tell of their noise together
   */
  public BenchReduction(BenchFile bench, Tallies tallies, ReadingNoise slow) {
    this.bench = bench;
    this.loop = new LoopErrors(bench.wiring());
    this.shunt = ShuntPath.of(bench);
    this.current =
        shunt.isPresent()
            ? new Chain(bench, RoleName.SHUNT_VOLTMETER, Signal.SHUNT_VOLTAGE, "V")
            : new Chain(bench, RoleName.CURRENT_METER, Signal.CURRENT, "A");
    this.voltage = new Chain(bench, RoleName.VOLTMETER, Signal.VOLTAGE, "V");
    this.pools = new Pools(tallies, slow);
    this.stays = new StayNumbers(tallies.points());
    this.usualLabDegC =
        tallies.points().stream()
            .map(t -> t.mean(Signal.LAB_TEMPERATURE))
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .average();
    for (PointTally zero : tallies.points(PointKind.ZERO)) {
      if (zero.point().state() == PointState.FLAGGED) {
        continue; // the run did not use it either
      }
      zeros
          .computeIfAbsent(MeterSettings.range(zero.point(), Signal.CURRENT), r -> new TreeMap<>())
          .put(zero.point().id(), zero);
    }
    this.standards =
        new CheckStandards(bench, tallies, t -> metered(t, t.of(Signal.CURRENT).orElseThrow()));
    notes.addAll(standards.notes());
  }

  @Override
  public Optional<ReducedPoint> of(PointTally tally) {
    Optional<ReadingStatistics> readings = tally.of(Signal.CURRENT);
    if (readings.isEmpty()) {
      return Optional.empty();
    }
    PointFacts facts = facts(tally, readings.get());
    note(Signal.CURRENT, facts.current().reading());
    Optional<PointFacts.Found> found = facts.found();
    if (found.isEmpty()) {
      String range = tally.point().conditions().range().map(r -> "range " + r + ": ").orElse("");
      notes.add(range + whyNot(facts.current()));
      return Optional.empty();
    }
    List<String> own = new ArrayList<>();
    suspects(tally, own);
    facts.voltage().ifPresent(v -> note(Signal.VOLTAGE, v.reading()));
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
            pools.of(tally.point(), Signal.CURRENT).unsteady(readings.get()),
            own));
  }

  private String whyNot(CurrentFacts current) {
    return current.withinCertificate()
        ? "the temperature of the shunt was not read: such points are left out"
        : "readings lie beyond the corrections of the meter's certificate: such points are left"
            + " out";
  }

  /** Keeps what did not turn with the leads, the largest of each signal. */
  private void note(Signal signal, PairedReading reading) {
    reading
        .offset()
        .ifPresent(
            offset -> offsets.merge(signal, offset, (a, b) -> Math.abs(a) > Math.abs(b) ? a : b));
  }

  private static void suspects(PointTally tally, List<String> own) {
    ReadingStatistics all = tally.withSuspects().get(Signal.CURRENT);
    ReadingStatistics good = tally.signals().get(Signal.CURRENT);
    if (all != null && good != null && all.n() > good.n()) {
      long off = all.n() - good.n();
      own.add(
          "%s %s off %s left out: the mean with %s is %s, without %s"
              .formatted(
                  off,
                  off == 1 ? "reading" : "readings",
                  off == 1 ? "its neighbours is" : "their neighbours are",
                  off == 1 ? "it" : "them",
                  Quantities.print(all.mean(), Dimension.CURRENT, 8),
                  Quantities.print(good.mean(), Dimension.CURRENT, 8)));
    }
  }

  /** Whether its zero was taken with the unit still in the loop: nothing can take it out. */
  private boolean connectedZero(PointTally tally) {
    return tally.zero().isPresent()
        && tally.of(Signal.REVERSED_CURRENT).isEmpty()
        && bench.in(RoleName.SWITCH).isEmpty();
  }

  /** Everything that the logbook and the bench file hold for a point. */
  private PointFacts facts(PointTally tally, ReadingStatistics readings) {
    double shown = readings.mean() * perAmpere(tally.point());
    String range = MeterSettings.range(tally.point(), Signal.CURRENT);
    Estimate burden = shunt.map(ShuntPath::ohm).orElseGet(() -> current.burdenOhm(shown, range));
    return new PointFacts(
        currentFacts(tally, readings),
        standards.drift(tally.point(), tally.timeS()),
        burden.plus(bench.wiring().leadsOhm()),
        loadOhm(tally),
        tally.of(Signal.VOLTAGE).map(volts -> voltage(tally, volts)));
  }

  /** What the current through the meter follows from: readings, zero, certificate, shunt. */
  private CurrentFacts currentFacts(PointTally tally, ReadingStatistics readings) {
    PooledNoise noise = pools.of(tally.point(), Signal.CURRENT);
    notes.addAll(noise.notes());
    String range = MeterSettings.range(tally.point(), Signal.CURRENT);
    double shown = readings.mean() * perAmpere(tally.point());
    notes.addAll(current.notes(shown, range));
    boolean reversed = tally.of(Signal.REVERSED_CURRENT).isPresent();
    return new CurrentFacts(
        paired(tally, Signal.CURRENT, current),
        reversed ? new CurrentFacts.Zero(0, Optional.empty()) : zero(tally, range, lab(tally)),
        current.corrections(shown, range),
        shunt.map(
            s ->
                s.at(
                    readDegC(tally, RoleName.SHUNT_THERMOMETER),
                    current.inputOhm(shown, range, input(tally, Signal.CURRENT)))));
  }

  /** The current through the meter alone. */
  private Optional<Estimate> metered(PointTally tally, ReadingStatistics readings) {
    CurrentFacts facts = currentFacts(tally, readings);
    Optional<Estimate> amperes = facts.currentA();
    note(Signal.CURRENT, facts.reading());
    if (amperes.isEmpty()) {
      notes.add(whyNot(facts));
    }
    return amperes;
  }

  /** What the current meter shows for an ampere that a run counted: 1, or the volts of a shunt. */
  private double perAmpere(Point point) {
    return shunt.map(s -> s.countedOhm(point)).orElse(1.0);
  }

  private PairedReading paired(PointTally tally, Signal signal, Chain chain) {
    return new PairedReading(
        reading(tally, signal, chain),
        tally.of(signal.reversed()).map(r -> reading(tally, signal.reversed(), chain)));
  }

  private MeterReading reading(PointTally tally, Signal signal, Chain chain) {
    String name = tally.name() + (signal.forward() == signal ? "" : " reversed");
    String range = MeterSettings.range(tally.point(), signal);
    boolean amperes = signal.forward() == Signal.CURRENT;
    Estimate mean =
        pools
            .of(tally.point(), signal)
            .mean(
                tally.of(signal).orElseThrow(), name + (amperes ? "" : " V"), amperes ? "A" : "V");
    Estimate shown = amperes ? mean.times(perAmpere(tally.point())) : mean;
    return chain.reading(shown, range, name, lab(tally));
  }

  /** What did not turn with the leads: the meters' offsets and thermal voltages. */
  private void offsetNotes(Set<String> all) {
    offsets.forEach(
        (signal, offset) ->
            all.add(
                "readings both ways round: what does not turn with the unit's leads (the meter's offset, thermal voltages) came to %s in the %s at most, and cancels"
                    .formatted(
                        Quantities.print(
                            offset, (signal == Signal.CURRENT ? current : voltage).dimension(), 3),
                        signal.text())));
  }

  /** The zero that counts: the last one in the same range of the meter before the point. */
  private CurrentFacts.Zero zero(PointTally tally, String range, Optional<MeterErrors.Lab> lab) {
    double kept = tally.zero().orElse(0) * perAmpere(tally.point());
    Map.Entry<Long, PointTally> found =
        zeros.getOrDefault(range, new TreeMap<>()).lowerEntry(tally.point().id());
    boolean read = tally.zero().isPresent() && found != null;
    return new CurrentFacts.Zero(
        kept,
        read
            ? found.getValue().of(Signal.CURRENT).map(r -> zero(found.getValue(), r, range, lab))
            : Optional.empty());
  }

  private MeterReading zero(
      PointTally zero, ReadingStatistics readings, String range, Optional<MeterErrors.Lab> lab) {
    double u = pools.of(zero.point(), Signal.CURRENT).meanUncertainty(readings.n());
    Estimate mean =
        Estimate.exact(readings.mean())
            .with(Source.normal("zero reading", Source.ZERO, zero.name(), u, "A"), 1);
    return current.reading(mean.times(perAmpere(zero.point())), range, zero.name(), lab);
  }

  private Optional<MeterErrors.Lab> lab(PointTally tally) {
    OptionalDouble now = tally.mean(Signal.LAB_TEMPERATURE);
    return now.isPresent() && usualLabDegC.isPresent()
        ? Optional.of(new MeterErrors.Lab(now.getAsDouble(), usualLabDegC.getAsDouble()))
        : Optional.empty();
  }

  private PointFacts.Voltage voltage(PointTally tally, ReadingStatistics volts) {
    String range = MeterSettings.range(tally.point(), Signal.VOLTAGE);
    PairedReading reading = paired(tally, Signal.VOLTAGE, voltage);
    boolean upstream =
        bench.wiring().voltmeter().orElse(BenchFile.VoltmeterPlace.ACROSS_LOAD)
            == BenchFile.VoltmeterPlace.UPSTREAM;
    if (!upstream) {
      return new PointFacts.Voltage(reading, false, Optional.empty());
    }
    OptionalDouble said = input(tally, Signal.VOLTAGE);
    voltage.otherInput(volts.mean(), range, said).ifPresent(notes::add);
    Optional<Estimate> input = voltage.inputOhm(volts.mean(), range, said);
    if (input.isEmpty()) {
      notes.add(
          "the voltmeter sits upstream and the bench file states no input resistance:"
              + " what it takes is not added back");
    }
    return new PointFacts.Voltage(reading, true, input);
  }

  /** The input resistance that the meter says it has, ohm; empty where it was not asked. */
  private static OptionalDouble input(PointTally tally, Signal signal) {
    OptionalDouble ohm = Numbers.parse(MeterSettings.of(tally.point(), signal, "input"));
    return ohm.isPresent() && ohm.getAsDouble() > 0 ? ohm : OptionalDouble.empty();
  }

  /** The load as it was set, with what the bench file states of it. */
  private Estimate loadOhm(PointTally tally) {
    double ohm = tally.point().conditions().loadOhm().orElse(0);
    return bench
        .facts(RoleName.LOAD)
        .map(facts -> StatedLoad.ohm(facts, ohm, tally.mean(Signal.LAB_TEMPERATURE)))
        .orElse(Estimate.exact(ohm));
  }

  /** Offset and scale of a thermometer; the scale alone enters a slope (methods.md 5.8). */
  private static Estimate thermometer(Estimate degC, Accuracy stated, String instance) {
    String group = Source.INSTRUMENT_AND_RANGE;
    return degC.with(Source.within("thermometer", group, instance, stated.absolute(), "K"), 1)
        .with(
            Source.within("thermometer scale", group, instance, stated.ofReading(), "K/K"),
            degC.value());
  }

  /** The thermometer at the unit if there is one, else the chamber's (methods.md 5.1). */
  private Optional<Estimate> temperatureDegC(PointTally tally) {
    OptionalDouble asked = tally.point().conditions().temperatureDegC();
    return readDegC(tally, RoleName.UNIT_THERMOMETER)
        .or(() -> readDegC(tally, RoleName.CHAMBER))
        .or(() -> asked.stream().mapToObj(Estimate::exact).findFirst());
  }

  private Optional<Estimate> readDegC(PointTally tally, RoleName role) {
    Signal signal = role.signal().orElseThrow();
    Accuracy stated =
        bench.facts(role).flatMap(f -> f.accuracy().stream().findFirst()).orElse(Accuracy.NONE);
    return tally
        .of(signal)
        .map(read -> pools.of(tally.point(), signal).mean(read, named(tally, role), "K"))
        .map(noisy -> thermometer(noisy, stated, role.text()));
  }

  private static String named(PointTally tally, RoleName role) {
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
