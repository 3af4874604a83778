/* Preloaded into a process that writes a ledger: notes every write, cut and sync of its database and its log, in their order, into the file
 * that RECORD names. A record is: what (1 byte), which file (1 byte: 0 database, 1 log), offset (8), length (4), and the bytes written. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

enum { WRITE = 1, CUT = 2, SYNC = 3 };

static int record_fd = -1;

__attribute__((constructor)) static void begin(void) {
  const char *name = getenv("RECORD");
  if (name) record_fd = open(name, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
}

static int ends_with(const char *text, size_t length, const char *end) {
  size_t end_length = strlen(end);
  return length >= end_length && memcmp(text + length - end_length, end, end_length) == 0;
}

/* 0 for the database, 1 for its log, -1 for every other file. */
static int which(int fd) {
  char link[64], path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t length = readlink(link, path, sizeof path);
  if (length <= 0) return -1;
  if (ends_with(path, (size_t)length, "power.sqlite")) return 0;
  if (ends_with(path, (size_t)length, "power.sqlite-wal")) return 1;
  return -1;
}

static void note(int what, int fd, int64_t offset, const void *bytes, uint32_t length) {
  if (record_fd < 0 || fd == record_fd) return;
  int file = which(fd);
  if (file < 0) return;
  size_t size = 14 + (bytes ? length : 0);
  unsigned char *record = malloc(size);
  record[0] = (unsigned char)what;
  record[1] = (unsigned char)file;
  memcpy(record + 2, &offset, 8);
  memcpy(record + 10, &length, 4);
  if (bytes) memcpy(record + 14, bytes, length);
  if (syscall(SYS_write, record_fd, record, size) != (long)size) abort();
  free(record);
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

ssize_t pwrite(int fd, const void *bytes, size_t length, off_t offset) {
  ssize_t written = REAL(pwrite)(fd, bytes, length, offset);
  if (written > 0) note(WRITE, fd, offset, bytes, (uint32_t)written);
  return written;
}

ssize_t pwrite64(int fd, const void *bytes, size_t length, off64_t offset) {
  ssize_t written = REAL(pwrite64)(fd, bytes, length, offset);
  if (written > 0) note(WRITE, fd, offset, bytes, (uint32_t)written);
  return written;
}

int ftruncate(int fd, off_t length) {
  int answer = REAL(ftruncate)(fd, length);
  if (answer == 0) note(CUT, fd, length, NULL, 0);
  return answer;
}

int ftruncate64(int fd, off64_t length) {
  int answer = REAL(ftruncate64)(fd, length);
  if (answer == 0) note(CUT, fd, length, NULL, 0);
  return answer;
}

int fsync(int fd) {
  int answer = REAL(fsync)(fd);
  if (answer == 0) note(SYNC, fd, 0, NULL, 0);
  return answer;
}

int fdatasync(int fd) {
  int answer = REAL(fdatasync)(fd);
  if (answer == 0) note(SYNC, fd, 0, NULL, 0);
  return answer;
}
