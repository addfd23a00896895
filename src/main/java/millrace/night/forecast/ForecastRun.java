// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.BooleanSupplier;
import java.util.function.Function;
import java.util.function.ToIntFunction;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.TypeTestRun;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.document.FileMessageText;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.fault.OutputException;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.logbook.Logbook;
import millrace.logbook.PlanChange;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.UnitUnderTest;
import millrace.planning.LimitForecast;
import millrace.run.control.StopRequest;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.time.VirtualClock;

/**
 * A run that is computed before it is measured (methods.md 12): the runner executes the plan in
 * virtual time, with a unit as expected and instruments that have the ranges and the noise of the
 * real ones and no errors. Its readings are then reduced and assessed like those of any run, with
 * all statements of the bench file, so that each U is the U of the real run. It sends nothing to
 * any instrument and stores nothing.
 */
public final class ForecastRun {
  private static final String UNIT = "forecast";
  private static final long SEED = 12;

  private static final Duration LONG_ON = Duration.ofDays(1);

  private ForecastRun() {}

  /**
   * A computed run.
   *
   * @param results expected values with the uncertainties of the run; of several draws of the
   *     noise, the one with the middle U
   * @param notes of the first draw
   * @param flagged the reasons why points are flagged or skipped, each once, with the number of the
   *     first such point
   * @param changes the changes of its plan, where it revises the plan
   */
  public record Computed(
      List<Result> results,
      List<String> notes,
      Map<String, String> flagged,
      List<PlanChange> changes) {
    /** Copies the collections; order kept. */
    public Computed {
      results = List.copyOf(results);
      notes = List.copyOf(notes);
      changes = List.copyOf(changes);
      flagged = Collections.unmodifiableMap(new LinkedHashMap<>(flagged));
    }
  }

  /**
   * The inputs of a computed run.
   *
   * @param inputs sequence and datasheet
   * @param benchName the name of the bench file
   * @param bench the bench file, whole
   * @param drivers the known drivers, for the ranges of meters
   * @param from its beginning, which decides which certificates are valid
   * @param typeRun the values that the run takes from a run of its type; empty for none
   */
  public record Order(
      RunInputs inputs,
      String benchName,
      String bench,
      Drivers drivers,
      Instant from,
      Optional<TypeTestRun> typeRun) {
    /** An order that takes nothing from a run of its type. */
    public Order(RunInputs inputs, String benchName, String bench, Drivers drivers, Instant from) {
      this(inputs, benchName, bench, drivers, from, Optional.empty());
    }

    byte[] content() {
      return bench.getBytes(StandardCharsets.UTF_8);
    }
  }

  /**
   * Computes a run of one unit: with one draw of the noise, with three where a U rests on few
   * degrees of freedom or another draw could change whether a limit is decided.
   *
   * @param order the inputs
   * @param earlier the data of an earlier unit; {@link Earlier#NONE} for a unit as its datasheet
   *     describes it, with the stated or usual noise
   * @return the computed run
   */
  public static Computed of(Order order, Earlier earlier) {
    return of(order, earlier, RunFacts.NONE, DrawsNeeded::toShow);
  }

  /** The same for a run that begins with facts; only what is decided matters. */
  static Computed of(Order order, Earlier earlier, RunFacts facts) {
    return of(order, earlier, facts, DrawsNeeded::toDecide);
  }

  private static Computed of(
      Order order,
      Earlier earlier,
      RunFacts facts,
      ToIntFunction<List<LimitForecast>> drawsNeeded) {
    Drawn first = drawn(order, earlier, facts, SEED);
    BenchFile file = BenchForms.read(order.benchName(), order.content());
    int count = drawsNeeded.applyAsInt(LimitForecast.of(first.judged(), file));
    List<Drawn> draws = new ArrayList<>(List.of(first));
    LongStream.range(1, count)
        .parallel()
        .mapToObj(draw -> drawn(order, earlier, facts, SEED + draw))
        .forEachOrdered(draws::add);
    return computed(draws);
  }

  /** The same with a number of draws. */
  static Computed of(Order order, Earlier earlier, int count) {
    List<Drawn> draws =
        LongStream.range(0, count)
            .parallel()
            .mapToObj(draw -> drawn(order, earlier, RunFacts.NONE, SEED + draw))
            .toList();
    return computed(draws);
  }

  private static Computed computed(List<Drawn> draws) {
    Drawn first = draws.get(0);
    return new Computed(
        MiddleResults.of(draws.stream().map(Drawn::judged).toList()),
        first.notes(),
        first.flagged(),
        first.changes());
  }

  /** The results of one draw of the noise, given by a seed. */
  static List<Result> once(Order order, Earlier earlier, long seed) {
    return read(
        order,
        earlier,
        RunFacts.NONE,
        seed,
        reader -> {
          JudgementBasis kept = Assessor.keptBasis(reader);
          JudgementBasis basis = order.typeRun().map(kept::like).orElse(kept);
          return Assessor.assess(reader, basis).results();
        });
  }

  /** What is kept of a draw: nine whole assessments of a long night do not fit into memory. */
  private record Drawn(
      List<Result> judged,
      List<String> notes,
      Map<String, String> flagged,
      List<PlanChange> changes) {
    static Drawn of(RunReader reader) {
      Assessment told = Assessor.assess(reader);
      List<Result> judged = told.results().stream().filter(r -> r.judgement().isPresent()).toList();
      return new Drawn(
          judged, List.copyOf(told.notes()), ForecastRun.flagged(reader), told.planChanges());
    }
  }

  private static Drawn drawn(Order order, Earlier earlier, RunFacts facts, long seed) {
    return read(order, earlier, facts, seed, Drawn::of);
  }

  /**
   * Computes a run of one unit with several draws, and passes all of them on while they exist.
   *
   * @param order the inputs
   * @param earlier as in {@link #of}
   * @param with the evaluation of their readings
   * @param <T> the type of the result
   * @return the result of the evaluation
   */
  static <T> T read(Order order, Earlier earlier, Function<List<RunReader>, T> with) {
    return read(order, earlier, List.of(), with);
  }

  private static <T> T read(
      Order order, Earlier earlier, List<RunReader> before, Function<List<RunReader>, T> with) {
    if (before.size() == DrawsNeeded.SEVERAL) {
      return with.apply(before);
    }
    return read(
        order,
        earlier,
        RunFacts.NONE,
        SEED + before.size(),
        reader -> {
          List<RunReader> readers = new ArrayList<>(before);
          readers.add(reader);
          return read(order, earlier, readers, with);
        });
  }

  private static <T> T read(
      Order order, Earlier earlier, RunFacts facts, long seed, Function<RunReader, T> with) {
    Path folder = folder();
    Thread whenStopped = new Thread(() -> remove(folder), "millrace-forecast");
    Runtime.getRuntime().addShutdownHook(whenStopped);
    try (Logbook book = Logbook.temporary(folder.resolve("forecast.db"))) {
      VirtualClock clock = new VirtualClock(order.from());
      Bench bench = bench(order, earlier, new SplittableRandom(seed), clock);
      try (BenchSession setting =
          BenchSession.computed(order.benchName(), order.content(), bench, clock)) {
        Night night = new Night(order.inputs(), setting, book, nobody());
        night.begin(unit(bench.file()).with(facts));
        return with.apply(book.reader(night.runs().get(0)));
      }
    } finally {
      remove(folder);
      forget(whenStopped);
    }
  }

  private static void forget(Thread whenStopped) {
    try {
      Runtime.getRuntime().removeShutdownHook(whenStopped);
    } catch (IllegalStateException beingStopped) {
      // the run is in progress and has no points left
    }
  }

  private static Map<String, String> flagged(RunReader reader) {
    Map<String, String> reasons = new LinkedHashMap<>();
    for (Point point : reader.points()) {
      if (point.state() == PointState.FLAGGED || point.state() == PointState.SKIPPED) {
        reasons.putIfAbsent(point.reason(), point.number().text());
      }
    }
    return reasons;
  }

  private static Bench bench(
      Order order, Earlier earlier, SplittableRandom draw, VirtualClock clock) {
    BenchFile file = plain(BenchForms.read(order.benchName(), order.content()));
    ExpectedUnit unit = new ExpectedUnit(order.inputs().datasheet(), earlier);
    ExpectedUnitNoise noise = new ExpectedUnitNoise(unit.noise(), earlier, draw.split());
    LinkOpener unused = LinkOpener.recording(address -> LinkRecorder.NONE);
    Bench real = Bench.open(file, order.drivers(), new Surroundings(clock, DONE), unused);
    BooleanSupplier quiet = real.workplace()::isQuiet;
    NominalRoles roles =
        new NominalRoles(
            new NominalLoop(file, order.inputs().datasheet(), unit, noise, clock, quiet),
            new ExpectedScatter(file, earlier),
            draw,
            new NominalMeter.Clocked(clock, BenchSpeedsFromFile.of(file)));
    return real.replacing((entry, instrument) -> new NominalInstrument(instrument, roles));
  }

  /** Without the self-reports of instruments and their time since power-on. */
  private static BenchFile plain(BenchFile file) {
    BenchFile plain = file;
    for (BenchFile.Entry e : file.instruments().values()) {
      plain =
          plain.with(
              new BenchFile.Entry(
                  e.place(),
                  e.name(),
                  e.driver(),
                  e.address(),
                  e.roles(),
                  e.settings(),
                  e.words(),
                  e.certificate(),
                  Optional.empty(),
                  Optional.empty()));
    }
    return plain;
  }

  private static UnitUnderTest unit(BenchFile file) {
    String slot = file.slots().keySet().stream().findFirst().orElse("");
    return UnitUnderTest.in(slot, UNIT).with(RunFacts.NONE.onFor(LONG_ON));
  }

  /** Does at once what an instrument set by hand is asked for. */
  private static final BenchOperator DONE = question -> new BenchOperator.Answer("done", "nobody");

  private static OperatorAttendance nobody() {
    RunStart.People people =
        new RunStart.People(Optional.empty(), Optional.empty(), Optional.empty());
    return new OperatorAttendance(
        people, question -> "yes", List.of(), new StopRequest(run -> ""), List.of());
  }

  private static Path folder() {
    try {
      return Files.createTempDirectory("millrace-forecast");
    } catch (IOException e) {
      throw new OutputException(
          "no folder for temporary files can be made: " + FileMessageText.reason(e), e);
    }
  }

  private static void remove(Path folder) {
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.toList()) {
        Files.deleteIfExists(file);
      }
      Files.deleteIfExists(folder);
    } catch (IOException e) {
      // in the folder for temporary files, which the system clears
    }
  }
}
