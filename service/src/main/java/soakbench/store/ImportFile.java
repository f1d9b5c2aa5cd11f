package soakbench.store;

/**
 * What became of one file of an import.
 *
 * @param name as its sender calls it
 * @param endedUs when it was through, microseconds since 1970; null until then
 * @param problem why it failed; null where it did not
 */
public record ImportFile(
    String name, RecordingImport.Counts samples, Long endedUs, String problem) {}
