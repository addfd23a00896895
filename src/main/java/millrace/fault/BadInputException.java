// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;
import java.util.List;
import java.util.stream.Collectors;

/** An input file or a command line does not validate; carries every fault that was found. */
public final class BadInputException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /** How many faults a person is shown before the rest is only counted. */
  public static final int SHOWN = 20;

  private final transient List<InputFault> faults;

  /**
   * The faults of one input.
   *
   * @param faults at least one
   */
  public BadInputException(List<InputFault> faults) {
    this(faults, 0);
  }

  /**
   * The faults of one input that has more of them than are kept.
   *
   * @param faults at least one
   * @param further how many more there are, 0 or more
   */
  public BadInputException(List<InputFault> faults, long further) {
    super(message(faults, further));
    this.faults = List.copyOf(faults);
  }

  /**
   * One fault alone.
   *
   * @param fault the fault
   */
  public BadInputException(InputFault fault) {
    this(List.of(fault));
  }

  /**
   * Every fault that was kept, also those that the message only counts.
   *
   * @return at least one
   */
  public List<InputFault> faults() {
    return faults;
  }

  private static String message(List<InputFault> faults, long further) {
    if (faults.isEmpty()) {
      throw new IllegalArgumentException("bad input without a fault");
    }
    String shown =
        faults.stream().limit(SHOWN).map(InputFault::toString).collect(Collectors.joining("\n"));
    long more = Math.max(0, faults.size() - SHOWN) + further;
    return more > 0 ? shown + "\nand " + more + " more." : shown;
  }
}
