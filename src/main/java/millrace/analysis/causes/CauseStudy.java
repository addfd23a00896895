// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import millrace.analysis.causes.RivalPair.Rival;
import millrace.analysis.design.DesignCircuit;

/**
 * What further measurements would do for a diagnosis (methods.md 9 and 12): which causes are not
 * told apart, which measurements separate them, and how often they would be named right after it.
 * The last is tried and not estimated: values are drawn of what would be found if each cause were
 * the true one, and diagnosed together with what is known. Immutable.
 */
public final class CauseStudy {
  /** What is less likely is out of question. */
  private static final double UNLIKELY = 0.1;

  /** Of the probability of 'nothing abnormal': a set that is less likely does not rival it. */
  private static final double AS_LIKELY = 0.5;

  private final Evidence evidence;
  private final CauseDiagnoser.InDetail found;
  private final List<RivalPair> open;

  /**
   * What a diagnosis is made from.
   *
   * @param circuit what the unit is made of
   * @param observations currents, compliance voltages, values by hand
   * @param coverage probability of the stated intervals, above 0 and below 1
   * @param voltmeterUpstream whether a voltmeter sits between the unit and its current meter
   */
  public record Evidence(
      DesignCircuit circuit,
      List<CauseObservation> observations,
      double coverage,
      boolean voltmeterUpstream) {
    /** Copies the list. */
    public Evidence {
      observations = List.copyOf(observations);
    }

    private Optional<CauseDiagnoser.InDetail> diagnosed() {
      return CauseDiagnoser.inDetail(circuit, observations, coverage, voltmeterUpstream);
    }

    private Evidence and(List<CauseObservation> further) {
      List<CauseObservation> all = new ArrayList<>(observations);
      all.addAll(further);
      return new Evidence(circuit, all, coverage, voltmeterUpstream);
    }
  }

  /**
   * How causes would be named after further measurements.
   *
   * @param drawn how many cases were drawn
   * @param right in how many of them the true cause was named, alone
   * @param before mean probability of the true cause as it is now, 0 to 1
   * @param after the same after the measurements
   */
  public record Gain(int drawn, int right, double before, double after) {
    /**
     * How often the true cause would be named alone.
     *
     * @return 0 to 1
     */
    public double share() {
      return drawn == 0 ? 0 : (double) right / drawn;
    }
  }

  private CauseStudy(Evidence evidence, CauseDiagnoser.InDetail found) {
    this.evidence = evidence;
    this.found = found;
    this.open = open(found.sets());
  }

  /**
   * Studies a diagnosis.
   *
   * @param evidence what it is made from
   * @return the study; empty without a usable current
   */
  public static Optional<CauseStudy> of(Evidence evidence) {
    return evidence.diagnosed().map(found -> new CauseStudy(evidence, found));
  }

  /**
   * The members of the set that the data ask for most, of those with more than one and likelier
   * than not; else 'nothing abnormal' against a set that is half as likely or more, where it is
   * neither likely enough nor out of question.
   */
  private static List<RivalPair> open(List<CauseSet> sets) {
    Optional<CauseSet> heaviest =
        sets.stream().filter(s -> s.probability() > 0.5 && s.members().size() > 1).findFirst();
    if (heaviest.isPresent()) {
      return heaviest.get().pairs();
    }
    CauseSet nothing = sets.stream().filter(s -> s.members().isEmpty()).findFirst().orElseThrow();
    boolean doubtful = nothing.probability() >= UNLIKELY && nothing.probability() <= 1 - UNLIKELY;
    return sets.stream()
        .filter(s -> doubtful && !s.members().isEmpty())
        .filter(s -> s.probability() >= AS_LIKELY * nothing.probability())
        .findFirst()
        .map(CauseStudy::againstNothing)
        .orElse(List.of());
  }

  private static List<RivalPair> againstNothing(CauseSet set) {
    Rival normal = new Rival(CauseFit.NOTHING, Optional.empty(), Cause.NOTHING);
    List<RivalPair> pairs = new ArrayList<>();
    for (int i = 0; i < set.members().size(); i++) {
      pairs.add(new RivalPair(set.rival(i), normal, set.gain()));
    }
    return pairs;
  }

  /**
   * The diagnosis as it is now.
   *
   * @return causes, the likeliest first
   */
  public ErrorCauseDiagnosis diagnosis() {
    return found.diagnosis();
  }

  /**
   * The likeliest cause, if it is separated from every other.
   *
   * @return the cause; empty where another one explains as much, or none is likelier than not
   */
  public Optional<Cause> identified() {
    Cause first = diagnosis().causes().get(0);
    return Optional.of(first).filter(c -> !rivals().contains(c.name()) && c.probability() > 0.5);
  }

  /**
   * Which causes are not separated from another one.
   *
   * @return by name, with 'nothing abnormal' where that is as likely; empty where all are separated
   */
  public List<String> rivals() {
    return rivals(open).stream().map(Rival::name).toList();
  }

  private static Set<Rival> rivals(List<RivalPair> pairs) {
    Map<String, Rival> rivals = new LinkedHashMap<>();
    for (RivalPair pair : pairs) {
      rivals.putIfAbsent(pair.one().name(), pair.one());
      rivals.putIfAbsent(pair.other().name(), pair.other());
    }
    return new LinkedHashSet<>(rivals.values());
  }

  /**
   * How many pairs of causes are not separated.
   *
   * @return 0 or more
   */
  public int openPairs() {
    return open.size();
  }

  /**
   * What could still be measured, with the pairs of causes that it alone separates.
   *
   * @return by measurement: places of pairs, from 0 to {@link #openPairs} less 1; those that
   *     separate none are left out
   */
  public Map<FurtherMeasurement, Set<Integer>> separating() {
    Map<FurtherMeasurement, Set<Integer>> places = new LinkedHashMap<>();
    found
        .separation()
        .each(open)
        .forEach(
            (what, pairs) -> {
              Set<Integer> each = new LinkedHashSet<>();
              pairs.forEach(p -> each.add(open.indexOf(p)));
              places.put(what, each);
            });
    return places;
  }

  /**
   * Two causes that are not separated.
   *
   * @param pair its place, from 0
   * @return in words
   */
  public String pair(int pair) {
    return "%s and %s".formatted(open.get(pair).one().name(), open.get(pair).other().name());
  }

  /**
   * Tries measurements: for each cause that is not separated from another one, values are drawn of
   * what would be found if it were the true one.
   *
   * @param measurements what is measured, all of it
   * @param each how many cases are drawn for each cause, above 0
   * @param random where chance comes from
   * @return how often the true cause is named alone
   */
  public Gain gain(List<FurtherMeasurement> measurements, int each, SplittableRandom random) {
    int right = 0;
    int drawn = 0;
    double before = 0;
    double after = 0;
    FurtherObservations further = new FurtherObservations(found, measurements);
    for (Rival truth : rivals(open)) {
      for (int i = 0; i < each; i++) {
        ErrorCauseDiagnosis later =
            evidence.and(further.drawn(truth.fit(), random)).diagnosed().orElseThrow().diagnosis();
        before += probability(diagnosis(), truth.name());
        after += probability(later, truth.name());
        right += isNamedAlone(later, truth.name()) ? 1 : 0;
        drawn++;
      }
    }
    return new Gain(drawn, right, before / Math.max(1, drawn), after / Math.max(1, drawn));
  }

  private static double probability(ErrorCauseDiagnosis found, String name) {
    return found.causes().stream()
        .filter(c -> c.name().equals(name))
        .mapToDouble(Cause::probability)
        .findFirst()
        .orElse(0);
  }

  private static boolean isNamedAlone(ErrorCauseDiagnosis found, String name) {
    return found.causes().stream()
        .anyMatch(
            c -> c.name().equals(name) && c.probability() > 0.5 && c.notSeparableFrom().isEmpty());
  }
}
