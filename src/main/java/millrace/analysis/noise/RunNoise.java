// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.CorrelatedNoise.Use;
import millrace.analysis.uncertainty.CoverageFactors;

/**
 * The noise of points that were read in the same way: its law from their readings, and from a long
 * record beside where there is one; what it makes of any weighted sum of points (methods.md 2.1,
 * 5.10). Thread-safe.
 */
public final class RunNoise {
  /** From this many readings on their own correlation tells what a mean of them is worth (2.1). */
  public static final int MANY = 100;

  /** Fewer readings than this make no record that tells slow noise. */
  public static final int LEAST_RECORD = 240;

  private static final int LEAST_DEGREES = 16;
  private static final int LONGEST = 1000;
  private static final String SLOW = "noise, slow noise too";
  private static final String WITHIN = "noise of the readings";

  private final PooledPointReadings readings;

  /** Those that tell the law. */
  private final PooledPointReadings telling;

  private final double unit;
  private final Optional<LongRecord> record;
  private final Map<String, Integer> places = new HashMap<>();
  private final Map<Use, Optional<Found>> found = new EnumMap<>(Use.class);
  private Optional<PointNoiseSampler> trials = Optional.empty();
  private Optional<LawEvidence> withinVisits = Optional.empty();
  private final Map<Use, View> views = new EnumMap<>(Use.class);

  /** The law as found for one use. */
  private record Found(
      NoiseLawMixture mixture,
      NoiseLaws laws,
      PointMeanCovariances covariances,
      String component,
      List<String> notes,
      boolean known) {}

  private RunNoise(
      List<PointReadings> points, Set<String> mute, double unit, Optional<LongRecord> record) {
    this.readings = new PooledPointReadings(points);
    List<PointReadings> heard = points.stream().filter(p -> !mute.contains(p.name())).toList();
    this.telling = heard.isEmpty() ? readings : new PooledPointReadings(heard);
    this.unit = unit;
    this.record = record;
    List<PointReadings> sorted = readings.points();
    for (int i = 0; i < sorted.size(); i++) {
      places.put(sorted.get(i).name(), i);
    }
    for (Use use : Use.values()) {
      views.put(use, new View(use));
    }
  }

  /**
   * The noise of points of which some tell nothing of its law.
   *
   * @param points their readings, at least one
   * @param mute names of points whose readings differ for other reasons too; the others tell the
   *     law, all where none is left
   * @param unit what one ppm of the nominal current is in the unit of the readings, above 0
   * @param record a long record in ppm of the nominal current, of the same meter setting; empty if
   *     there is none
   * @return their noise
   */
  public static RunNoise of(
      List<PointReadings> points, Set<String> mute, double unit, Optional<LongRecord> record) {
    List<PointReadings> scaled = new ArrayList<>();
    for (PointReadings p : points) {
      double[] ppm = Arrays.stream(p.values()).map(v -> v / unit).toArray();
      scaled.add(
          new PointReadings(p.name(), p.visit(), p.reference(), p.condition(), p.timesS(), ppm));
    }
    return new RunNoise(scaled, mute, unit, record);
  }

  /**
   * The time from reading to reading.
   *
   * @return the median within points, s
   */
  public double intervalS() {
    return readings.intervalS();
  }

  /**
   * From the first reading to the last.
   *
   * @return s
   */
  public double spanS() {
    return readings.spanS();
  }

  /**
   * The rms of the steps from reading to reading within points.
   *
   * @return ppm of the nominal current; empty where so few readings tell nothing of it
   */
  public OptionalDouble stepPpm() {
    double sum = 0;
    int steps = 0;
    for (PointReadings p : readings.points()) {
      double[] y = p.values();
      for (int i = 1; i < y.length; i++) {
        sum += (y[i] - y[i - 1]) * (y[i] - y[i - 1]);
        steps++;
      }
    }
    return steps < LEAST_DEGREES
        ? OptionalDouble.empty()
        : OptionalDouble.of(Math.sqrt(sum / steps));
  }

  /**
   * The noise as any weighted sum of points sees it.
   *
   * @return to be put into the sources of the points
   */
  public CorrelatedNoise shared() {
    return views.get(Use.POINTS);
  }

  /** The record, if its readings follow one another as those of the points do. */
  private Optional<LongRecord> paced() {
    return record.filter(r -> r.size() >= LEAST_RECORD && r.paced(readings.intervalS()));
  }

  private Optional<Found> found(Use use) {
    synchronized (found) {
      Optional<Found> known = found.get(use);
      if (known == null) {
        known = use == Use.POINTS ? withinPoints() : amongVisits(use);
        found.put(use, known);
      }
      return known;
    }
  }

  private Optional<Found> withinPoints() {
    Optional<LongRecord> beside = paced();
    if (beside.isPresent()) {
      NoiseLaws laws = NoiseLaws.of(beside.get().size(), false);
      List<String> notes = named(beside.get());
      if (beside.get().spanS() < readings.spanS()) {
        notes.add("that record is shorter than the points lie apart: a random walk may be larger");
      }
      return made(laws, telling.withinPoints(laws).and(beside.get().evidence(laws)), SLOW, notes);
    }
    // A hundred readings tell their own correlation; what is slower, only a record tells.
    return telling.size() >= MANY ? Optional.empty() : fromFew();
  }

  /** Without a record: the laws that a few readings within points can tell. */
  private Optional<Found> fromFew() {
    if (telling.within() < LEAST_DEGREES) {
      return Optional.empty();
    }
    NoiseLaws laws = NoiseLaws.withoutWalk(LEAST_RECORD);
    return made(
        laws,
        telling.withinPoints(laws),
        WITHIN,
        List.of(
            "noise law from %s readings, random walk not looked for".formatted(telling.size())));
  }

  private Optional<Found> amongVisits(Use use) {
    Optional<LongRecord> beside = paced().filter(r -> r.spanS() >= readings.spanS());
    boolean timed = use == Use.VISITS_AND_TIME;
    int visits = telling.referenceVisits();
    boolean revisited = use != Use.HYSTERESIS && visits >= (timed ? 3 : 2);
    if (beside.isPresent()) {
      boolean checked = beside.get().isOfAnotherUnit() && revisited;
      return use != Use.VISITS && !checked
          ? found(Use.VISITS) // a record tells all of them alike
          : byRecord(beside.get(), checked, timed);
    } else if (use == Use.HYSTERESIS) {
      return nothingTells();
    } else if (!revisited) {
      return fromFew();
    }
    double span = readings.spanS() / readings.intervalS();
    NoiseLaws laws = NoiseLaws.of((int) Math.max(2, Math.min(LONGEST, span)), false);
    LawEvidence evidence = sharing(laws, timed);
    return made(laws, evidence, SLOW, List.of("noise from %s visits to T_ref".formatted(visits)));
  }

  /** With a record; where it is another unit's, the visits to T_ref have their say, too. */
  private Optional<Found> byRecord(LongRecord beside, boolean checked, boolean timed) {
    NoiseLaws laws = NoiseLaws.of(beside.size(), false);
    LawEvidence own = checked ? sharing(laws, timed) : telling.withinVisits(laws);
    return made(laws, own.and(beside.evidence(laws)), SLOW, named(beside));
  }

  private static List<String> named(LongRecord beside) {
    List<String> notes = new ArrayList<>();
    notes.add("noise law from %s".formatted(beside.name()));
    if (beside.isOfAnotherUnit()) {
      notes.add(
          "that record is of another unit in the same setting of the meter: slow noise that this"
              + " unit alone has, only a record of its own tells");
    }
    return notes;
  }

  private LawEvidence sharing(NoiseLaws laws, boolean timed) {
    return telling.many()
        ? withinVisits(laws).and(telling.meansAtReference(laws, timed))
        : telling.sharing(laws, timed);
  }

  /** Told once: with a drift and without one it is the same. */
  private LawEvidence withinVisits(NoiseLaws laws) {
    if (withinVisits.isEmpty()) {
      withinVisits = Optional.of(telling.withinVisits(laws));
    }
    return withinVisits.get();
  }

  private Optional<Found> nothingTells() {
    NoiseLaws laws = NoiseLaws.withoutWalk(LEAST_RECORD);
    return Optional.of(
        new Found(
            NoiseLawMixture.of(
                laws, new LawEvidence(new double[laws.size()], new double[laws.size()], 1)),
            laws,
            PointMeanCovariances.of(List.of(), List.of(), 1),
            SLOW,
            List.of(
                "hysteresis and slow noise together, no U: a stability record of this unit and"
                    + " meter setting, as long as the visits lie apart, would tell them apart"),
            false));
  }

  private Optional<Found> made(
      NoiseLaws laws, LawEvidence evidence, String component, List<String> notes) {
    if (evidence.degrees() < 1 || !(Arrays.stream(evidence.squares()).max().orElse(0) > 0)) {
      return Optional.empty();
    }
    PointMeanCovariances covariances =
        PointMeanCovariances.of(laws.kernels(), readings.points(), readings.intervalS());
    return Optional.of(
        new Found(NoiseLawMixture.of(laws, evidence), laws, covariances, component, notes, true));
  }

  /** w'Kw of each kernel; what has no variance of a mean takes w less its even spread. */
  private double[] byKernel(Found law, Map<String, Double> weights) {
    List<PointReadings> points = readings.points();
    double[] w = new double[points.size()];
    double sum = 0;
    for (Map.Entry<String, Double> each : weights.entrySet()) {
      w[places.get(each.getKey())] = each.getValue();
      sum += each.getValue();
    }
    double[] contrast = w.clone();
    for (int i = 0; i < w.length; i++) {
      contrast[i] -= sum * points.get(i).size() / readings.size();
    }
    double[] all = new double[law.laws().kernels().size()];
    for (int a = 0; a < all.length; a++) {
      boolean centred = law.laws().kernels().get(a).needsContrast();
      all[a] = law.covariances().quadratic(a, centred ? contrast : w);
    }
    return all;
  }

  private PointNoiseSampler trials(Found law) {
    synchronized (found) {
      if (trials.isEmpty()) {
        double[] shares =
            readings.points().stream()
                .mapToDouble(p -> (double) p.size() / readings.size())
                .toArray();
        trials =
            Optional.of(
                new PointNoiseSampler(law.mixture(), law.laws(), law.covariances(), shares));
      }
      return trials.get();
    }
  }

  /** The noise as one use sees it. */
  private final class View implements CorrelatedNoise {
    private final Use use;

    View(Use use) {
      this.use = use;
    }

    @Override
    public Optional<Carried> carried(Map<String, Double> weights) {
      return found(use)
          .map(
              law -> {
                double u =
                    law.known()
                        ? unit
                            * law.mixture().expanded(byKernel(law, weights), CoverageFactors.USUAL)
                            / 2
                        : 0;
                return new Carried(law.component(), u, law.known(), law.notes());
              });
    }

    @Override
    public Optional<Double> variance(Map<String, Double> weights) {
      return found(use)
          .filter(Found::known)
          .map(law -> unit * unit * law.mixture().variance(byKernel(law, weights)));
    }

    @Override
    public Optional<Sampler> sampler(List<String> instances) {
      int[] which = instances.stream().mapToInt(name -> places.getOrDefault(name, -1)).toArray();
      return (readings.visits() > 1 ? found(Use.VISITS) : Optional.<Found>empty())
          .or(() -> found(Use.POINTS))
          .map(law -> random -> of(which, trials(law).next(random)));
    }

    private double[] of(int[] which, double... errors) {
      double[] own = new double[which.length];
      for (int i = 0; i < own.length; i++) {
        own[i] = which[i] < 0 ? 0 : errors[which[i]] * unit;
      }
      return own;
    }

    @Override
    public CorrelatedNoise forUse(Use other) {
      return views.get(other);
    }
  }
}
