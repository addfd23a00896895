// SPDX-License-Identifier: Apache-2.0
package millrace.link;

/** A conversation of several queries that needs the link for itself. */
public interface ExclusiveLinkUse<T> {
  /**
   * Asks and answers.
   *
   * @return what came of it
   */
  T run();
}
