package millrace.sequence;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import millrace.evidence.PointKind;

/** What is done at a point. */
public sealed interface Task {
  /**
   * What kind of point it makes.
   *
   * @return the kind; empty for tasks that take no readings
   */
  Optional<PointKind> kind();

  /**
   * What it is called in the key of a point.
   *
   * @return a short word; empty text for a plain measurement
   */
  String word();

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
  }

  /**
   * Takes readings of a check standard, or of all that the bench has.
   *
   * @param name its name in the bench file, or {@link #ALL}
   */
  record CheckStandard(String name) implements Task {
    /** Every standard of the bench; a bench without any passes over it. */
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
  }

  /**
   * Looks for the compliance voltage by bisection (measurement.md 3.5).
   *
   * @param resolutionV when the bracket is narrow enough, V, above 0
   * @param highestShare the highest load tried, as a share of the datasheet's compliance voltage
   */
  record FindKnee(double resolutionV, double highestShare) implements Task {
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

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.MEASURE);
    }

    @Override
    public String word() {
      return "knee";
    }
  }

  /**
   * Takes readings one after another.
   *
   * @param spanS how long, s, above 0
   * @param everyS from one to the next, s, 0 for as fast as the meter can
   * @param fromPowerOn true if the source is switched on just before
   */
  record Watch(double spanS, double everyS, boolean fromPowerOn) implements Task {
    /** Checks the ranges. */
    public Watch {
      if (!(spanS > 0) || !(everyS >= 0)) {
        throw new IllegalArgumentException(
            "readings for %s s, every %s s; expected a span above 0".formatted(spanS, everyS));
      }
    }

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.TIME_SERIES);
    }

    @Override
    public String word() {
      return fromPowerOn ? "warm-up" : "watch";
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
  }

  /**
   * A short look at ambient before the chamber moves: every range, highest load, polarity.
   *
   * @param asksSlots whether a person is asked to switch one of several units off after another, so
   *     that swapped slots show
   */
  record TrialLap(boolean asksSlots) implements Task {
    /** Nobody is asked. */
    static final TrialLap USUAL = new TrialLap(false);

    @Override
    public Optional<PointKind> kind() {
      return Optional.of(PointKind.TRIAL);
    }

    @Override
    public String word() {
      return "trial";
    }
  }

  /**
   * Asks the operator.
   *
   * @param text the question
   */
  record Ask(String text) implements Task {
    @Override
    public Optional<PointKind> kind() {
      return Optional.empty();
    }

    @Override
    public String word() {
      return "question";
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
  }
}
