package millrace.analysis.uncertainty;

import java.util.Comparator;
import java.util.OptionalDouble;
import millrace.evidence.Distribution;

/**
 * One elementary error, independent of every other: the same component, group and instance mean the
 * same error, fully correlated wherever it enters (measurement.md 2.3).
 *
 * @param component what the error comes from
 * @param group what it is shared by: run; instrument and range; zero; temperature step; point
 * @param instance which one of the group, for example the key of a point
 * @param distribution its shape
 * @param degreesOfFreedom how well its size is known; empty means infinitely well; sources of one
 *     component and group that were estimated together share them
 * @param value its standard uncertainty in its own unit, 0 or more
 * @param unit the unit of value
 */
public record Source(
    String component,
    String group,
    String instance,
    Distribution distribution,
    OptionalDouble degreesOfFreedom,
    double value,
    String unit)
    implements Comparable<Source> {

  /** The group of errors that each point has for itself. */
  public static final String POINT = "point";

  private static final Comparator<Source> ORDER =
      Comparator.comparing(Source::component)
          .thenComparing(Source::group)
          .thenComparing(Source::instance)
          .thenComparing(Source::unit)
          .thenComparingDouble(Source::value);

  /** Checks the size. */
  public Source {
    if (!(value >= 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "component '%s' has a standard uncertainty of %s; expected 0 or more and finite"
              .formatted(component, value));
    }
  }

  @Override
  public int compareTo(Source other) {
    return ORDER.compare(this, other);
  }
}
