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
   * Asks for its identity and checks that the driver is meant for it.
   *
   * @return the identity as the instrument gives it; a text that says so if it has none
   * @throws millrace.fault.InstrumentException if it does not answer or is another kind
   */
  String identity();

  /**
   * The instrument in one of its roles.
   *
   * @param role the role
   * @param face the interface of that role
   * @param <R> the interface
   * @return the instrument in that role; empty if its driver cannot
   */
  <R> Optional<R> in(RoleName role, Class<R> face);

  /**
   * Reads the errors of the instrument, and removes them from its queue.
   *
   * @return its error messages, oldest first; empty if none or if it keeps none
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  List<String> errors();

  /**
   * Messages that affect no reading, such as errors of an earlier user that were found when it was
   * opened; sends nothing.
   *
   * @return the messages since the last call, oldest first; usually empty
   */
  default List<String> notes() {
    return List.of();
  }

  /**
   * Counts how often its link was opened or resynchronized. When the count has grown, all earlier
   * settings are in doubt: set all conditions again and repeat the point. Until a role has been set
   * again its readings are refused.
   *
   * @return the count; 0 for an instrument that has no link
   */
  default int epoch() {
    return 0;
  }

  /**
   * How long its replies took; sends nothing.
   *
   * @return empty for an instrument without a link, or before its first reply
   */
  default Optional<ReplyTimes> replyTimes() {
    return Optional.empty();
  }

  /**
   * Reopens a broken link and resynchronizes it if needed, so that {@link #epoch} is up to date.
   * Does nothing if nothing was sent yet.
   *
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  default void renew() {}

  /**
   * Tells whether a person sets and reads it; a person should not be asked more often than
   * necessary.
   *
   * @return false for an instrument that talks
   */
  default boolean isByHand() {
    return false;
  }

  /**
   * Checks that readings are credible: no unrequested bytes came, and the instrument was not
   * switched off and on. To be called before a point is committed.
   *
   * @throws millrace.fault.InstrumentException if it cannot be believed
   */
  default void check() {}

  /**
   * Reads back all settings that its driver can read back: somebody may have changed them at the
   * panel or from elsewhere.
   *
   * @return the changed settings in words; empty if none is known to differ
   * @throws millrace.fault.InstrumentException if it does not answer
   */
  default Optional<String> changed() {
    return Optional.empty();
  }

  /**
   * Puts it in its safe state, also while another thread waits for its reply. All safe commands are
   * sent, whatever it answers and even if no reply confirms them.
   *
   * @param within how long that may take, real time
   * @return how it is known that it is safe
   * @throws millrace.fault.InstrumentException if that could not be confirmed
   */
  SafeStateAssurance makeSafe(Duration within);

  /** Releases it; sends nothing. */
  @Override
  void close();
}
