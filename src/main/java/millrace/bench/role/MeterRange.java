package millrace.bench.role;

/**
 * One range of a meter.
 *
 * @param fullScale what the range is called by, A or V, above 0
 * @param highest the highest reading it takes, not below fullScale
 * @param resolution the least step of a reading, 0 if not known
 */
public record MeterRange(double fullScale, double highest, double resolution) {
  /** Checks the order. */
  public MeterRange {
    if (!(fullScale > 0) || !(highest >= fullScale) || !(resolution >= 0)) {
      throw new IllegalArgumentException(
          "a meter range of %s with readings up to %s and steps of %s; expected 0 < range <= highest"
              .formatted(fullScale, highest, resolution));
    }
  }
}
