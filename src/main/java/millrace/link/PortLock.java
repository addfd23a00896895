package millrace.link;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;

/**
 * Keeps a second Millrace off a serial port: a locked file in the folder for temporary files. The
 * system lets go of it when the process dies, however it dies.
 */
final class PortLock implements AutoCloseable {
  private final RandomAccessFile file;

  private PortLock(RandomAccessFile file) {
    this.file = file;
  }

  /**
   * Takes the lock of a port.
   *
   * @throws InstrumentException if another process, or another link of this one, has it
   */
  static PortLock take(LinkAddress.Serial address, String path) {
    Path lockFile = fileFor(path);
    RandomAccessFile file;
    try {
      file = new RandomAccessFile(lockFile.toFile(), "rw");
    } catch (IOException e) {
      throw new InstrumentException(cannotLock(address, lockFile, e), e);
    }
    try {
      FileLock lock = file.getChannel().tryLock();
      if (lock == null) {
        throw new InstrumentException(held(address, "another Millrace (process " + owner(file)));
      }
      file.setLength(0);
      file.write(Long.toString(ProcessHandle.current().pid()).getBytes(StandardCharsets.US_ASCII));
      return new PortLock(file);
    } catch (OverlappingFileLockException e) {
      letGo(file);
      throw new InstrumentException(
          held(address, "another link of this run (process " + self()), e);
    } catch (IOException e) {
      letGo(file);
      throw new InstrumentException(cannotLock(address, lockFile, e), e);
    } catch (InstrumentException e) {
      letGo(file);
      throw e;
    }
  }

  private static Path fileFor(String path) {
    String real = path;
    try {
      real = Path.of(path).toRealPath().toString();
    } catch (IOException e) {
      // A port that is no file, as on other systems, is locked under the name it was given.
      real = path;
    }
    String name = "millrace-port" + real.replaceAll("[^A-Za-z0-9]+", "-") + ".lock";
    return Path.of(System.getProperty("java.io.tmpdir", "."), name);
  }

  private static long self() {
    return ProcessHandle.current().pid();
  }

  private static String owner(RandomAccessFile file) throws IOException {
    byte[] pid = new byte[20];
    file.seek(0);
    int n = file.read(pid);
    return n > 0 ? new String(pid, 0, n, StandardCharsets.US_ASCII) : "unknown";
  }

  private static InstrumentTrouble held(LinkAddress.Serial address, String by) {
    return InstrumentTrouble.of(
            Kind.UNREACHABLE, address.toString(), "the port is held by " + by + ")")
        .with("a free port", "End the other one, or give this bench another port.");
  }

  private static InstrumentTrouble cannotLock(
      LinkAddress.Serial address, Path lockFile, IOException e) {
    return InstrumentTrouble.of(
            Kind.UNREACHABLE,
            address.toString(),
            "the lock file " + lockFile + " cannot be used (" + e.getMessage() + ")")
        .with("a file that this user may write", "Delete it if no Millrace is running.");
  }

  private static void letGo(RandomAccessFile file) {
    new PortLock(file).close();
  }

  @Override
  public void close() {
    try {
      file.close();
    } catch (IOException e) {
      throw new IllegalStateException("a lock file cannot be closed: " + e.getMessage(), e);
    }
  }
}
