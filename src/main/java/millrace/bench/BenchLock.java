package millrace.bench;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;

/**
 * Keeps two Millraces of one user from talking to the same instruments: a lock of the operating
 * system per address, which goes away with the process, however it ends. All locks are bytes of one
 * file in the user's folder, of which a process shares one channel, as closing any channel of a
 * file can drop all its locks. Thread-safe.
 */
public final class BenchLock implements AutoCloseable {
  private static final Map<Path, Shared> SHARED = new HashMap<>();

  /** The lock file of this process. */
  private static final class Shared {
    private final FileChannel channel;
    private final Map<Long, FileLock> held = new HashMap<>();

    Shared(FileChannel channel) {
      this.channel = channel;
    }
  }

  private final Path folder;
  private final List<Long> bytes = new ArrayList<>();

  private BenchLock(Path folder) {
    this.folder = folder;
  }

  /**
   * Where the locks of this user are.
   *
   * @return a folder, which need not exist yet
   */
  public static Path usualFolder() {
    String home = System.getProperty("user.home", ".");
    return Path.of(System.getProperty("millrace.user", Path.of(home, ".millrace").toString()));
  }

  /**
   * Takes every address of a bench.
   *
   * @param bench the bench
   * @param folder where the locks of this user are
   * @return the lock; close it
   * @throws InstrumentException if another process, or this one, has one of them already; it is
   *     named
   */
  public static BenchLock take(BenchFile bench, Path folder) {
    BenchLock lock = new BenchLock(folder);
    boolean done = false;
    try {
      for (String address : addresses(bench)) {
        lock.take(bench, address);
      }
      done = true;
      return lock;
    } finally {
      if (!done) {
        lock.close();
      }
    }
  }

  private static SortedSet<String> addresses(BenchFile bench) {
    SortedSet<String> addresses = new TreeSet<>();
    for (BenchFile.Entry each : bench.instruments().values()) {
      if (!(each.address() instanceof LinkAddress.ByHand)) {
        addresses.add(each.address().toString());
      }
    }
    return addresses;
  }

  private void take(BenchFile bench, String address) {
    long at = place(address);
    synchronized (SHARED) {
      try {
        Shared shared = shared();
        FileLock lock = shared.held.containsKey(at) ? null : shared.channel.tryLock(at, 1, false);
        if (lock == null) {
          throw isHeld(bench, address);
        }
        shared.held.put(at, lock);
        bytes.add(at);
        Files.writeString(note(at), holder());
      } catch (IOException e) {
        throw new InstrumentException(
            "bench '%s': its lock in '%s' cannot be used (%s); expected a folder that may be written. Check its permissions."
                .formatted(bench.name(), folder, e.getMessage()),
            e);
      }
    }
  }

  /** A byte of its own for each address, far apart enough that two never meet. */
  private static long place(String address) {
    long h = 0xcbf29ce484222325L;
    for (int i = 0; i < address.length(); i++) {
      h = (h ^ address.charAt(i)) * 0x100000001b3L;
    }
    return h >>> 2;
  }

  private Shared shared() throws IOException {
    Shared known = SHARED.get(folder);
    if (known == null) {
      Files.createDirectories(folder);
      known =
          new Shared(
              FileChannel.open(
                  folder.resolve("benches-lock"),
                  StandardOpenOption.CREATE,
                  StandardOpenOption.WRITE));
      SHARED.put(folder, known);
    }
    return known;
  }

  private Path note(long at) {
    return folder.resolve("bench-" + Long.toHexString(at) + ".held");
  }

  private static String holder() {
    return "process %d of %s"
        .formatted(ProcessHandle.current().pid(), System.getProperty("user.name", "someone"));
  }

  private InstrumentException isHeld(BenchFile bench, String address) throws IOException {
    Path note = note(place(address));
    String who = Files.exists(note) ? Files.readString(note) : "another Millrace";
    return new InstrumentException(
        "bench '%s': %s is in use by %s; expected that nobody uses it. Let that end, or stop it first."
            .formatted(bench.name(), address, who));
  }

  @Override
  public void close() {
    synchronized (SHARED) {
      Shared shared = SHARED.get(folder);
      if (shared == null) {
        return;
      }
      for (long at : bytes) {
        release(shared, at);
      }
      bytes.clear();
    }
  }

  private void release(Shared shared, long at) {
    try {
      Files.deleteIfExists(note(at));
      FileLock lock = shared.held.remove(at);
      if (lock != null) {
        lock.release();
      }
    } catch (IOException e) {
      throw new InstrumentException(
          "a lock in '%s' cannot be released: %s. It goes away when this process ends."
              .formatted(folder, e.getMessage()),
          e);
    }
  }
}
