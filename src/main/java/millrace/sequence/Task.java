// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.PointKind;
import millrace.evidence.part.AskedPartValue;
import millrace.quantity.NumberText;

/** What is measured or done at a point. */
public sealed interface Task {
  /** The usual number of loads of a search for the knee, and of a trial lap in each range. */
  int STOPS = 8;

  /** The time of a reading of a meter that runs freely, s. */
  double FASTEST_S = 0.2;

  /**
   * The kind of its point.
   *
   * @return the kind; empty for tasks that take no readings
   */
  Optional<PointKind> kind();

  /**
   * Its name in the key of a point.
   *
   * @return a short word; empty text for a plain measurement
   */
  String word();

  /**
   * Its other properties that decide where it may be placed.
   *
   * @return its traits
   */
  Set<Trait> traits();

  /**
   * About how many readings it takes, for the room that they need.
   *
   * @param once what a point comes to that is read once
   * @return 0 or more
   */
  default double readings(double once) {
    return kind().isPresent() ? once : 0;
  }

  /**
   * What a person is to measure for it.
   *
   * @return the value asked for; empty for tasks that ask for none
   */
  default Optional<AskedPartValue> asked() {
    return Optional.empty();
  }

  /**
   * Calls the method for its kind (visitor).
   *
   * @param visitor has a way for every kind
   * @param <R> what comes of it
   * @return what the visitor returns
   */
  <R> R accept(Visitor<R> visitor);

  /** Properties that tasks share beside their kind of point. */
  enum Trait {
    /** It reads the unit into loads; its current shows whether the unit has settled. */
    LOADED_UNIT,
    /** Its result hardly depends on the temperature of the unit. */
    WHILE_SOAKING,
    /** During a soak it waits until the temperature is near. */
    NEAR,
    /** It must be placed inside a range. */
    IN_A_RANGE,
    /** It sets loads by itself, and must not be placed inside a sweep of loads. */
    OUTSIDE_LOADS,
    /** It must be placed inside loads above 0 ohm. */
    AT_A_RESISTOR,
    /** It goes through all ranges and loads; not to be placed inside a sweep of them. */
    THROUGH_ALL
  }

  /**
   * One method per kind of task: a new kind does not compile until each visitor has it.
   *
   * @param <R> what comes of it
   */
  interface Visitor<R> {
    R measure(Measure task);

    R zero(Zero task);

    R checkStandard(CheckStandard task);

    R findKnee(FindKnee task);

    R watch(Watch task);

    R sourceOff(SourceOff task);

    R knownResistor(KnownResistor task);

    R trialLap(TrialLap task);

    R ask(Ask task);

    R waits(Wait task);
  }

  /** Takes readings of the unit. */
  record Measure() implements Task {
    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.MEASURE);
    }

    @Override
    public String word() {
      return "";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.LOADED_UNIT, Trait.IN_A_RANGE);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.measure(this);
    }
  }

  /** Takes the meter's zero. */
  record Zero() implements Task {
    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.ZERO);
    }

    @Override
    public String word() {
      return "zero";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.WHILE_SOAKING, Trait.IN_A_RANGE);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.zero(this);
    }
  }

  /**
   * Takes readings of a check standard, or of all that the bench has.
   *
   * @param name its name in the bench file, or {@link #ALL}
   */
  record CheckStandard(String name) implements Task {
    /** Every standard of the bench; skipped on a bench without any. */
    public static final String ALL = "all";

    /**
     * Which standards are meant.
     *
     * @param known names of those that the bench has
     * @return in their order; the name alone where one is named, known or not
     */
    public List<String> among(Collection<String> known) {
      return name.equals(ALL) ? List.copyOf(known) : List.of(name);
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.CHECK_STANDARD);
    }

    @Override
    public String word() {
      return "standard " + name;
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.WHILE_SOAKING);
    }

    @Override
    public double readings(double once) {
      return 2 * once; // with a zero of its own
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.checkStandard(this);
    }
  }

  /**
   * Looks for the compliance voltage by bisection (methods.md 3.5).
   *
   * @param resolutionV when the bracket is narrow enough, V, above 0
   * @param highestShare the highest load tried, as a share of the datasheet's compliance voltage
   */
  record FindKnee(double resolutionV, double highestShare) implements Task {
    /** The first loads, which determine the line of the plateau: shares of the highest. */
    public static final List<Double> PLATEAU_SHARES = List.of(0.1, 0.4, 0.7);

    /** To 50 mV, up to 130 %. */
    static final FindKnee USUAL = new FindKnee(0.05, 1.3);

    /** Checks the ranges. */
    public FindKnee {
      if (!(resolutionV > 0) || !(highestShare > 0)) {
        throw new IllegalArgumentException(
            "a knee search to %s V up to a share of %s; expected both above 0"
                .formatted(resolutionV, highestShare));
      }
    }

    /**
     * How many loads a search takes, the knee lying somewhere below the highest.
     *
     * @param fullV compliance voltage that the datasheet promises, V, above 0
     * @return 5 or more
     */
    public int expectedLoads(double fullV) {
      double last = PLATEAU_SHARES.get(PLATEAU_SHARES.size() - 1);
      double bracketV = Math.max(0, highestShare - last) * fullV;
      int halvings = NumberText.halvings(Math.max(1, bracketV / resolutionV));
      return PLATEAU_SHARES.size() + 2 + halvings;
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.MEASURE);
    }

    @Override
    public String word() {
      return "knee";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(
          Trait.LOADED_UNIT,
          Trait.WHILE_SOAKING,
          Trait.NEAR,
          Trait.IN_A_RANGE,
          Trait.OUTSIDE_LOADS);
    }

    @Override
    public double readings(double once) {
      return STOPS * once;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.findKnee(this);
    }
  }

  /**
   * Takes readings one after another.
   *
   * @param forS how long, s, above 0; empty: as long as the run has taken until then
   * @param everyS from one to the next, s, 0 for as fast as the meter can
   * @param fromPowerOn true if the source is switched on just before
   * @param withinS it is skipped unless it ends within this time from the start of the run, s;
   *     empty: it is always taken
   */
  record Watch(Optional<Double> forS, double everyS, boolean fromPowerOn, Optional<Double> withinS)
      implements Task {
    /** Checks the ranges. */
    public Watch {
      if (!(forS.orElse(1.0) > 0) || !(everyS >= 0)) {
        throw new IllegalArgumentException(
            "readings for %s s, every %s s; expected a span above 0"
                .formatted(forS.orElse(0.0), everyS));
      }
    }

    /**
     * How long it takes.
     *
     * @param soFarS how long the run has taken until then, s
     * @return s; empty where it is passed over
     */
    public Optional<Double> spanS(double soFarS) {
      double span = forS.orElse(soFarS);
      return Optional.of(span).filter(s -> s > 0 && soFarS + s <= withinS.orElse(soFarS + s));
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.TIME_SERIES);
    }

    @Override
    public String word() {
      return fromPowerOn ? "warm-up" : "watch";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.IN_A_RANGE);
    }

    @Override
    public double readings(double once) {
      return forS().orElse(withinS().orElse(0.0) / 2) / Math.max(everyS(), FASTEST_S);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.watch(this);
    }
  }

  /** Takes readings with the source off. */
  record SourceOff() implements Task {
    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.SOURCE_OFF);
    }

    @Override
    public String word() {
      return "source off";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.IN_A_RANGE);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.sourceOff(this);
    }
  }

  /**
   * Takes readings of the meter chain on a known resistor.
   *
   * @param withinRatio how far voltage over current may be off the resistance, a ratio, above 0
   */
  record KnownResistor(double withinRatio) implements Task {
    /** Within 0.1 %. */
    static final KnownResistor USUAL = new KnownResistor(1e-3);

    /** Checks the range. */
    public KnownResistor {
      if (!(withinRatio > 0)) {
        throw new IllegalArgumentException(
            "a known resistor within " + withinRatio + "; expected above 0");
      }
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.KNOWN_RESISTOR);
    }

    @Override
    public String word() {
      return "known resistor";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.WHILE_SOAKING, Trait.IN_A_RANGE, Trait.AT_A_RESISTOR);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.knownResistor(this);
    }
  }

  /**
   * A short check at ambient before the chamber moves: every range, highest load, polarity.
   *
   * @param asksSlots whether a person is asked to switch one of several units off after another, so
   *     that swapped slots show
   */
  record TrialLap(boolean asksSlots) implements Task {
    /** No person is asked. */
    static final TrialLap USUAL = new TrialLap(false);

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.TRIAL);
    }

    @Override
    public String word() {
      return "trial";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.THROUGH_ALL);
    }

    @Override
    public double readings(double once) {
      return STOPS * once;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.trialLap(this);
    }
  }

  /**
   * Asks the operator.
   *
   * @param text the question
   * @param asked what the answer is a value of; empty: any text will do
   */
  record Ask(String text, Optional<AskedPartValue> asked) implements Task {
    /** Finding a part, measuring and typing, s (common practice, no source). */
    private static final double BY_HAND_S = 300;

    /**
     * How long it takes, as far as can be told beforehand.
     *
     * @return s; 0 for a question that asks for no value
     */
    double spanS() {
      return asked.isPresent() ? BY_HAND_S : 0;
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.empty();
    }

    @Override
    public String word() {
      return "question";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.WHILE_SOAKING);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.ask(this);
    }
  }

  /**
   * Waits.
   *
   * @param spanS how long, s, above 0
   */
  record Wait(double spanS) implements Task {
    /** Checks the range. */
    public Wait {
      if (!(spanS > 0)) {
        throw new IllegalArgumentException("a wait of " + spanS + " s; expected above 0");
      }
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.empty();
    }

    @Override
    public String word() {
      return "wait";
    }

    @Override
    public Set<Trait> traits() {
      return Set.of(Trait.WHILE_SOAKING);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.waits(this);
    }
  }
}
