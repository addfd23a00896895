// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;

/** The serial ports of this machine: the list, the choice of one, and why one cannot be opened. */
public final class SerialPorts {
  private static final String USB = "usb=";

  private SerialPorts() {}

  /**
   * A serial port that this machine has.
   *
   * @param path where it is, for example a device file
   * @param name its name in the system
   * @param description what the system says of it
   * @param usbSerial the serial number of the USB adapter; empty if there is none
   */
  public record Known(String path, String name, String description, Optional<String> usbSerial) {
    /** The words by which a person would choose it. */
    @Override
    public String toString() {
      String usb = usbSerial.map(s -> ", " + USB + s).orElse("");
      return path + " (" + description + usb + ")";
    }
  }

  /**
   * Lists the ports.
   *
   * @return every port that the system shows, in its order
   */
  public static List<Known> list() {
    return Arrays.stream(SerialPort.getCommPorts()).map(SerialPorts::known).toList();
  }

  private static Known known(SerialPort port) {
    String serial = port.getSerialNumber();
    boolean stated = serial != null && !serial.isBlank() && !serial.equals("Unknown");
    return new Known(
        port.getSystemPortPath(),
        port.getSystemPortName(),
        port.getDescriptivePortName(),
        stated ? Optional.of(serial) : Optional.empty());
  }

  static SerialPort find(LinkAddress.Serial address) {
    String path = address.port();
    if (path.startsWith(USB)) {
      path = chosen(address, list());
    } else if (path.startsWith("/") && !Files.exists(Path.of(path))) {
      throw new InstrumentException(noSuchPort(address, list()));
    }
    try {
      return SerialPort.getCommPort(path);
    } catch (SerialPortInvalidPortException e) {
      throw new InstrumentException(noSuchPort(address, list()), e);
    }
  }

  /** The path of the one port whose adapter has the serial number asked for. */
  static String chosen(LinkAddress.Serial address, List<Known> ports) {
    String wanted = address.port().substring(USB.length());
    List<Known> found =
        ports.stream().filter(p -> p.usbSerial().filter(wanted::equals).isPresent()).toList();
    if (found.isEmpty()) {
      throw new InstrumentException(noSuchPort(address, ports));
    }
    if (found.size() > 1) {
      throw new InstrumentException(
          InstrumentTrouble.of(
                  Kind.UNREACHABLE,
                  address.toString(),
                  found.size() + " ports have this serial number: " + shown(found))
              .with("one", "Name the port by its path."));
    }
    return found.get(0).path();
  }

  private static InstrumentTrouble noSuchPort(LinkAddress.Serial address, List<Known> ports) {
    return InstrumentTrouble.of(Kind.UNREACHABLE, address.toString(), "there is no such port")
        .with(
            ports.isEmpty() ? "a port, but this machine shows none" : "one of " + shown(ports),
            "Check the cable and the bench file.");
  }

  private static String shown(List<Known> ports) {
    return ports.stream().map(Known::toString).collect(Collectors.joining(", "));
  }

  /** Why a port that exists cannot be opened, from the system's error number. */
  static InstrumentTrouble whyClosed(LinkAddress.Serial address, String path, int errno) {
    List<String> holders = holders(Path.of(path));
    if (!holders.isEmpty()) {
      return cannot(address, "the port is held by " + String.join(" and ", holders))
          .with("a free port", "End that program, then try again.");
    }
    if (errno == 13 || errno == 1 || !Files.isReadable(Path.of(path))) {
      return cannot(address, "this user may not open the port")
          .with(
              "permission to read and write " + path,
              group(Path.of(path))
                  .map(
                      g ->
                          "Join the group '"
                              + g
                              + "' (sudo usermod -aG "
                              + g
                              + " $USER), log in"
                              + " again.")
                  .orElse("Ask who runs this machine for permission."));
    }
    if (errno == 16 || errno == 11) {
      return cannot(address, "the port is held by another program")
          .with("a free port", "End that program, then try again.");
    }
    return cannot(address, "the port cannot be opened (system error " + errno + ")")
        .with("a port that opens", "Check the adapter and the line settings.");
  }

  private static InstrumentTrouble cannot(LinkAddress.Serial address, String found) {
    return InstrumentTrouble.of(Kind.UNREACHABLE, address.toString(), found);
  }

  private static Optional<String> group(Path path) {
    try {
      return Optional.of(Files.readAttributes(path, PosixFileAttributes.class).group().getName());
    } catch (IOException | UnsupportedOperationException e) {
      return Optional.empty();
    }
  }

  /** Which other processes have the port open, as far as this user may see. */
  static List<String> holders(Path port) {
    List<String> found = new ArrayList<>();
    String self = String.valueOf(ProcessHandle.current().pid());
    try (DirectoryStream<Path> all = Files.newDirectoryStream(Path.of("/proc"), "[0-9]*")) {
      Path real = port.toRealPath();
      for (Path process : all) {
        String pid = process.getFileName().toString();
        if (!pid.equals(self) && hasOpen(process, real)) {
          found.add(name(process) + " (process " + pid + ")");
        }
      }
    } catch (IOException e) {
      return found;
    }
    return found;
  }

  private static boolean hasOpen(Path process, Path real) {
    try (DirectoryStream<Path> open = Files.newDirectoryStream(process.resolve("fd"))) {
      for (Path descriptor : open) {
        if (pointsTo(descriptor, real)) {
          return true;
        }
      }
      return false;
    } catch (IOException e) {
      return false;
    }
  }

  private static boolean pointsTo(Path descriptor, Path real) {
    try {
      return Files.readSymbolicLink(descriptor).equals(real);
    } catch (IOException e) {
      return false;
    }
  }

  private static String name(Path process) {
    try {
      return Files.readString(process.resolve("comm")).strip();
    } catch (IOException e) {
      return "a program";
    }
  }
}
