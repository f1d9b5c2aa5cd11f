package soakbench.serial;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.util.Optional;

/** Says in one sentence why a port can't be used and what to do about it. */
final class PortProblem {
  /** Error numbers as Linux gives them. */
  static final int ENOENT = 2;

  static final int EAGAIN = 11;
  static final int EACCES = 13;
  static final int EBUSY = 16;
  static final int ENOTTY = 25;

  private static final String USUAL_GROUP = "dialout";

  private PortProblem() {}

  /** What can be seen without opening the port. */
  static Optional<String> before(Path path) {
    if (!Files.exists(path)) {
      return Optional.of(missing(path));
    }
    if (Files.isDirectory(path) || Files.isRegularFile(path)) {
      return Optional.of(notSerial(path));
    }
    return mayUse(path) ? Optional.empty() : Optional.of(noPermission(path));
  }

  /** Why opening failed with this error number. */
  static String opening(Path path, int error) {
    Optional<String> seen = before(path);
    if (seen.isPresent()) {
      return seen.get();
    }
    return switch (error) {
      case EACCES -> noPermission(path);
      case EAGAIN, EBUSY ->
          "port " + path + " is busy: another program holds it; close that program";
      case ENOENT ->
          "port " + path + " is busy: this program has it open already, perhaps for another slot";
      case ENOTTY -> notSerial(path);
      default -> "port " + path + " could not be opened (error number " + error + ")";
    };
  }

  private static String missing(Path path) {
    String what = Files.isSymbolicLink(path) ? " leads nowhere" : " does not exist";
    return "port " + path + what + "; plug the tracker in, or set another port for this slot";
  }

  private static String notSerial(Path path) {
    return "port " + path + " is not a serial port; set another port for this slot";
  }

  private static boolean mayUse(Path path) {
    return Files.isReadable(path) && Files.isWritable(path);
  }

  private static String noPermission(Path path) {
    return "no permission to use port "
        + path
        + ": join the group "
        + group(path)
        + " (sudo usermod -aG "
        + group(path)
        + " \"$USER\"), then log in again";
  }

  private static String group(Path path) {
    try {
      String name = Files.readAttributes(path, PosixFileAttributes.class).group().getName();
      // A device of root's own group is given to nobody: the usual group is the better advice.
      return name.equals("root") ? USUAL_GROUP : name;
    } catch (IOException e) {
      return USUAL_GROUP;
    }
  }
}
