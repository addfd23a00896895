// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/** Who holds a run: this process, in words for the message that another one gives. */
final class RunHolder {
  private RunHolder() {}

  static String inWords() {
    String user = System.getProperty("user.name", "someone");
    return "process " + ProcessHandle.current().pid() + " of " + user + host();
  }

  /** The host's name as the shell knows it; asking the network could take seconds. */
  private static String host() {
    String name = System.getenv("HOSTNAME");
    String windows = System.getenv("COMPUTERNAME");
    String host = name != null ? name : windows;
    return host == null ? "" : " on " + host;
  }
}
