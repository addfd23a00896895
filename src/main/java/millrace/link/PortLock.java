// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.lock.LockHolder;
import millrace.lock.ProcessLock;

/**
 * Keeps a second Millrace process from using a serial port: a lock in the folder for temporary
 * files.
 */
final class PortLock implements AutoCloseable {
  private final ProcessLock lock;

  private PortLock(ProcessLock lock) {
    this.lock = lock;
  }

  /**
   * Takes the lock of a port.
   *
   * @throws InstrumentException if another process, or another link of this one, has it
   */
  static PortLock take(LinkAddress.Serial address, String path) {
    Path file = fileFor(path);
    Path note = file.resolveSibling(file.getFileName() + ".held");
    try {
      return ProcessLock.take(file, 0, note)
          .map(PortLock::new)
          .orElseThrow(() -> new InstrumentException(held(address, ProcessLock.holder(note))));
    } catch (IOException e) {
      throw new InstrumentException(cannotLock(address, file, e), e);
    }
  }

  private static Path fileFor(String path) {
    String real = path;
    try {
      real = Path.of(path).toRealPath().toString();
    } catch (IOException e) {
      // Where ports are not files, the lock has the name of the port as given.
      real = path;
    }
    String name = "millrace-port" + real.replaceAll("[^A-Za-z0-9]+", "-") + ".lock";
    return Path.of(System.getProperty("java.io.tmpdir", "."), name);
  }

  private static InstrumentTrouble held(LinkAddress.Serial address, Optional<String> by) {
    String who =
        by.filter(LockHolder.thisProcess()::equals).isPresent() ? "link of this run" : "Millrace";
    return InstrumentTrouble.of(
            Kind.UNREACHABLE,
            address.toString(),
            "the port is held by another " + who + by.map(b -> " (" + b + ")").orElse(""))
        .with("a free port", "End the other one, or give this bench another port.");
  }

  private static InstrumentTrouble cannotLock(
      LinkAddress.Serial address, Path file, IOException e) {
    return InstrumentTrouble.of(
            Kind.UNREACHABLE,
            address.toString(),
            "the lock file " + file + " cannot be used (" + FileMessageText.reason(e) + ")")
        .with("a file that this user may write", "Delete it if no Millrace is running.");
  }

  @Override
  public void close() {
    try {
      lock.close();
    } catch (IOException e) {
      throw new IllegalStateException(
          "a port's lock cannot be released: " + FileMessageText.reason(e), e);
    }
  }
}
