// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/** One instrument on the bench, spoken to by its driver. */
public interface Instrument extends AutoCloseable {
  /**
   * Its name in the bench file.
   *
   * @return the name
   */
  String name();

  /**
   * Asks who it is and checks that the driver is meant for it.
   *
   * @return the identity as the instrument gives it; a text that says so if it has none
   * @throws millrace.fault.InstrumentException if it does not answer or is another kind
   */
  String identity();

  /**
   * What it can do in a role.
   *
   * @param role the role
   * @param face the interface of that role
   * @param <R> the interface
   * @return the instrument in that role; empty if its driver cannot
   */
  <R> Optional<R> in(RoleName role, Class<R> face);

  /**
   * Takes what the instrument has to complain about.
   *
   * @return its error messages, oldest first; empty if none or if it keeps none
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  List<String> errors();

  /**
   * What it has to tell that does not spoil any reading, such as complaints of an earlier user that
   * were found when it was opened; asks it nothing.
   *
   * @return what came since the last call, oldest first; mostly empty
   */
  default List<String> notes() {
    return List.of();
  }

  /**
   * Counts how often the link to it was opened or brought in step again. When it has grown,
   * whatever was set before is in doubt: set all conditions again and repeat the point. Until a
   * role has been set again its readings are refused.
   *
   * @return the count; 0 for an instrument that has no link
   */
  default int epoch() {
    return 0;
  }

  /**
   * Opens a link that broke and gets in step where that is due, so that {@link #epoch} tells what
   * holds from here on. Does nothing where nothing was said yet.
   *
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  default void renew() {}

  /**
   * Tells whether a person sets and reads it, who is not to be asked more often than need be.
   *
   * @return false for an instrument that talks
   */
  default boolean isByHand() {
    return false;
  }

  /**
   * Checks that what was read can be believed: nothing came that nobody had asked for, and the
   * instrument was not switched off and on. To be called before a point is committed.
   *
   * @throws millrace.fault.InstrumentException if it cannot be believed
   */
  default void check() {}

  /**
   * Asks again what stands there of all that it was told, where its driver asks back: somebody may
   * have changed it at its panel or from elsewhere.
   *
   * @return in words what is not as it was set; empty if nothing is known to differ
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  default Optional<String> changed() {
    return Optional.empty();
  }

  /**
   * Puts it in its safe state, also while another thread waits for its reply. All that makes it
   * safe is said, whatever it answers meanwhile and whether or not it can be known that it heard.
   *
   * @param within how long that may take, real time
   * @return how it is known that it is safe
   * @throws millrace.fault.InstrumentException if that could not be confirmed
   */
  SafeStateAssurance makeSafe(Duration within);

  /** Lets go of it; says nothing to it. */
  @Override
  void close();
}
