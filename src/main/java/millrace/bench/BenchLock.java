// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import millrace.document.FileMessageText;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;
import millrace.lock.LockHolder;
import millrace.lock.ProcessLock;

/**
 * Prevents two Millrace processes from using the same instruments: one lock per address. A lock is
 * one byte of a file in the user's folder, with a note of who holds it; and one byte of a file that
 * all users of the machine share, where the system has a common folder for temporary files, as on
 * Linux. A process on another machine is not seen. Thread-safe.
 */
public final class BenchLock implements AutoCloseable {
  private final BenchFile bench;
  private final Path folder;
  private final List<ProcessLock> held = new ArrayList<>();

  private BenchLock(BenchFile bench, Path folder) {
    this.bench = bench;
    this.folder = folder;
  }

  /**
   * The lock file of this user.
   *
   * @return a folder, which need not exist yet
   */
  public static Path usualFolder() {
    String home = System.getProperty("user.home", ".");
    return Path.of(System.getProperty("millrace.user", Path.of(home, ".millrace").toString()));
  }

  /**
   * Locks every address of a bench.
   *
   * @param bench the bench
   * @param folder where the locks of this user are
   * @return the lock; close it
   * @throws InstrumentException if another process, or this one, has one of them already; it is
   *     named
   */
  public static BenchLock take(BenchFile bench, Path folder) {
    return take(bench, folder, LockHolder.self());
  }

  /**
   * Locks every address of a bench, with a note of what for.
   *
   * @param bench the bench
   * @param folder where the locks of this user are
   * @param self this process, with what it does
   * @return the lock; close it
   * @throws InstrumentException if another process, or this one, has one of them already; it is
   *     named
   */
  public static BenchLock take(BenchFile bench, Path folder, LockHolder self) {
    BenchLock lock = new BenchLock(bench, folder);
    boolean done = false;
    try {
      for (String address : addresses(bench)) {
        lock.take(address);
      }
      lock.tell(self);
      done = true;
      return lock;
    } finally {
      if (!done) {
        lock.close();
      }
    }
  }

  /**
   * Adds to the note of who holds it.
   *
   * @param self this process, with facts
   * @throws InstrumentException if that cannot be written
   */
  public void tell(LockHolder self) {
    try {
      for (ProcessLock each : held) {
        each.tell(self);
      }
    } catch (IOException e) {
      throw unusable(e);
    }
  }

  /**
   * The holders of addresses of a bench.
   *
   * @param bench the bench
   * @param folder where the locks of this user are
   * @return each holder once; a holder without a note is left out
   */
  public static Set<LockHolder> holders(BenchFile bench, Path folder) {
    BenchLock lock = new BenchLock(bench, folder);
    Set<LockHolder> holders = new LinkedHashSet<>();
    for (String address : addresses(bench)) {
      lock.holder(address).ifPresent(holders::add);
    }
    return holders;
  }

  /**
   * The holders according to the notes. No lock is tried, so that a process that is just taking the
   * bench is not disturbed; holders of another user are not seen.
   *
   * @param bench the bench
   * @param folder where the locks of this user are
   * @return each holder once, whose process lives
   */
  public static Set<LockHolder> announced(BenchFile bench, Path folder) {
    BenchLock lock = new BenchLock(bench, folder);
    Set<LockHolder> holders = new LinkedHashSet<>();
    for (String address : addresses(bench)) {
      LockHolder.read(lock.note(address))
          .filter(h -> h.process().isPresent())
          .ifPresent(holders::add);
    }
    return holders;
  }

  private Optional<LockHolder> holder(String address) {
    try {
      Files.createDirectories(folder);
      Optional<ProcessLock> free = ProcessLock.take(folder.resolve("benches-lock"), place(address));
      if (free.isEmpty()) {
        return LockHolder.read(note(address));
      }
      free.get().close();
      return Optional.empty();
    } catch (IOException e) {
      throw unusable(e);
    }
  }

  private Path note(String address) {
    return folder.resolve("bench-" + Long.toHexString(place(address)) + ".held");
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

  private void take(String address) {
    try {
      Files.createDirectories(folder);
      held.add(
          ProcessLock.take(folder.resolve("benches-lock"), place(address), note(address))
              .orElseThrow(() -> isHeld(address, holderOf(address))));
    } catch (IOException e) {
      throw unusable(e);
    }
    if (!takeAmongUsers(address)) {
      throw isHeld(address, "another user of this machine");
    }
  }

  private String holderOf(String address) {
    return ProcessLock.holder(note(address)).orElse("another Millrace");
  }

  /** Whether no other user holds it; unknown if the machine has no folder for all users. */
  private boolean takeAmongUsers(String address) {
    Path all = Path.of(System.getProperty("java.io.tmpdir", ".")).resolve("millrace-benches-lock");
    try {
      Optional<ProcessLock> lock = ProcessLock.takeAmongUsers(all, place(address));
      lock.ifPresent(held::add);
      return lock.isPresent();
    } catch (IOException noPlaceForAll) {
      return true; // the lock of this user works nevertheless
    }
  }

  private InstrumentException unusable(IOException e) {
    return new InstrumentException(
        "bench '%s': its lock in '%s' cannot be used (%s); expected a folder that may be written. Check its permissions."
            .formatted(bench.name(), folder, FileMessageText.reason(e)),
        e);
  }

  /**
   * The byte of an address: a hash of 62 bits, so that two addresses practically never share one.
   */
  private static long place(String address) {
    long h = 0xcbf29ce484222325L;
    for (int i = 0; i < address.length(); i++) {
      h = (h ^ address.charAt(i)) * 0x100000001b3L;
    }
    return h >>> 2;
  }

  private InstrumentException isHeld(String address, String who) {
    return new InstrumentException(
        "bench '%s': %s is in use by %s; expected that nobody uses it. Let that end, or stop it first."
            .formatted(bench.name(), address, who));
  }

  @Override
  public void close() {
    for (ProcessLock lock : held) {
      release(lock);
    }
  }

  private void release(ProcessLock lock) {
    try {
      lock.close();
    } catch (IOException e) {
      throw new InstrumentException(
          "a lock in '%s' cannot be released: %s. It goes away when this process ends."
              .formatted(folder, FileMessageText.reason(e)),
          e);
    }
  }
}
