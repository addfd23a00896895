// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

/** The version of this build: every run, judging and document for programs names it. */
public final class Version {
  /** As in {@code millrace --version}. */
  public static final String CURRENT = "0.2.0";

  private Version() {}
}
