// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.util.ArrayList;
import java.util.List;

/**
 * The list in which the faults of one input are collected, so that a person sees all of them at
 * once.
 *
 * <p>Single-threaded.
 */
public final class InputFaultList {
  private final List<InputFault> list = new ArrayList<>();

  /** Makes an empty list. */
  public InputFaultList() {}

  /**
   * Notes one fault.
   *
   * @param fault the fault
   */
  public void add(InputFault fault) {
    list.add(fault);
  }

  /**
   * Notes one fault whose remedy is plain.
   *
   * @param place where
   * @param found what was found
   * @param expected what was expected
   */
  public void add(FilePlace place, String found, String expected) {
    list.add(InputFault.of(place, found, expected));
  }

  /**
   * Counts what was noted so far.
   *
   * @return the number of faults
   */
  public int count() {
    return list.size();
  }

  /**
   * Ends the reading of an input.
   *
   * @throws BadInputException if any fault was noted
   */
  public void throwIfAny() {
    if (!list.isEmpty()) {
      throw new BadInputException(list);
    }
  }
}
