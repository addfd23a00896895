// SPDX-License-Identifier: Apache-2.0
package millrace.link;

/** Something that needs the link for itself while it asks several questions. */
public interface ExclusiveLinkUse<T> {
  /**
   * Asks and answers.
   *
   * @return what came of it
   */
  T run();
}
