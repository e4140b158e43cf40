/* The least that importing a waveform can cost on this machine: one pass over the bytes of one CSV file that turns every
 * number into a double and keeps, per gate, the highest value of any trace. No checks, no flags, nothing kept.
 *
 *     gcc -O3 -march=native scan.c -o scan && ./scan FILE
 *
 * Prints the rows, the values, their sum (so that no number can be skipped) and the highest value in each gate. */
#include <fcntl.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

static const struct { double from_us, to_us; } gates[] = {{4.0, 9.5}, {9.6, 19.0}};
enum { GATES = sizeof gates / sizeof gates[0] };

static const double tens[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
                              1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/* The cursor stands on a number's first character and is left on the one after its last. Up to 15 digits the digits as a
 * whole number and the power of ten are exact doubles, so that one division rounds correctly; anything else goes to strtod. */
static inline double number(const char **cursor) {
  const char *at = *cursor;
  const int negative = *at == '-';
  at += negative;
  const char *const begin = at;
  uint64_t digits = 0;
  unsigned digit;
  while ((digit = (unsigned char)*at - '0') < 10) { digits = digits * 10 + digit; at++; }
  long places = 0, length = at - begin;
  if (*at == '.') {
    const char *const point = at++;
    while ((digit = (unsigned char)*at - '0') < 10) { digits = digits * 10 + digit; at++; }
    places = at - point - 1;
    length += places;
  }
  if (__builtin_expect(length == 0 || length > 15 || (*at | 32) == 'e', 0)) {
    char *end;
    const double value = strtod(*cursor, &end);
    *cursor = end > *cursor ? end : *cursor + 1;
    return value;
  }
  *cursor = at;
  const double value = (double)digits / tens[places];
  return negative ? -value : value;
}

int main(int count, char **arguments) {
  if (count != 2) return fputs("usage: scan FILE\n", stderr), 2;
  const int file = open(arguments[1], O_RDONLY);
  struct stat about;
  if (file < 0 || fstat(file, &about) != 0 || about.st_size == 0) return perror(arguments[1]), 2;
  /* A page of zeros behind the file ends the last number even where the file fills its last page. */
  const size_t size = (size_t)about.st_size;
  char *text = mmap(NULL, size + 4096, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (text == MAP_FAILED || mmap(text, size, PROT_READ, MAP_PRIVATE | MAP_FIXED, file, 0) == MAP_FAILED) return perror("mmap"), 2;
  madvise(text, size, MADV_SEQUENTIAL);

  const char *at = text, *const end = text + size;
  double highest[GATES], sum = 0;
  for (int g = 0; g < GATES; g++) highest[g] = -INFINITY;
  uint64_t rows = 0, values = 0;
  while (at < end) {
    const unsigned char begins = (unsigned char)*at;
    if ((unsigned)begins - '0' < 10u || begins == '-' || begins == '.') {
      const double time = number(&at);
      while (*at == ',') {
        at++;
        const double value = number(&at);
        sum += value;
        values++;
        for (int g = 0; g < GATES; g++)
          if (time >= gates[g].from_us && time <= gates[g].to_us && value > highest[g]) highest[g] = value;
      }
      rows++;
    }
    while (at < end && *at != '\n') at++;
    at++;
  }
  printf("rows %llu, values %llu, sum %.6f, highest", (unsigned long long)rows, (unsigned long long)values, sum);
  for (int g = 0; g < GATES; g++) printf(" %.6f", highest[g]);
  puts("");
  return 0;
}
