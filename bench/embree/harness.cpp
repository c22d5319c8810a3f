// Traces rays of a file through Embree's single-ray calls, for comparison only. It reads commands from standard input and
// answers each with one line:
//
//   build            builds the scene anew                 -> wall seconds, CPU seconds of the process
//   closest | any    traces all rays of that kind, 1 thread -> CPU seconds of the thread, number of hits, checksum
//
// usage: harness SCENE CLOSEST ANY CONFIG ROBUST
#include <embree3/rtcore.h>
#include <sys/resource.h>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <iostream>
#include <limits>
#include <string>
#include <vector>

struct Ray { float origin[3], direction[3], near, far; };

static double clock_of(clockid_t id) {
  timespec t;
  clock_gettime(id, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

template <class T> static std::vector<T> read_all(FILE* f, size_t n) {
  std::vector<T> v(n);
  if (n && fread(v.data(), sizeof(T), n, f) != n) { fprintf(stderr, "harness: a file is too short\n"); exit(1); }
  return v;
}

static std::vector<Ray> read_rays(const char* name) {
  FILE* f = fopen(name, "rb");
  if (!f) { perror(name); exit(1); }
  auto n = read_all<int32_t>(f, 1);
  auto rays = read_all<Ray>(f, n[0]);
  fclose(f);
  return rays;
}

struct Bench {
  RTCDevice device;
  RTCScene scene = nullptr;
  std::vector<float> positions;
  std::vector<uint32_t> triangles;
  bool robust;

  void build() {
    if (scene) rtcReleaseScene(scene);
    double wall = clock_of(CLOCK_MONOTONIC), cpu = clock_of(CLOCK_PROCESS_CPUTIME_ID);
    scene = rtcNewScene(device);
    if (robust) rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    RTCGeometry mesh = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    void* p = rtcSetNewGeometryBuffer(mesh, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 12, positions.size() / 3);
    memcpy(p, positions.data(), 4 * positions.size());
    void* t = rtcSetNewGeometryBuffer(mesh, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 12, triangles.size() / 3);
    memcpy(t, triangles.data(), 4 * triangles.size());
    rtcCommitGeometry(mesh);
    rtcAttachGeometry(scene, mesh);
    rtcReleaseGeometry(mesh);
    rtcCommitScene(scene);
    printf("%.6f %.6f\n", clock_of(CLOCK_MONOTONIC) - wall, clock_of(CLOCK_PROCESS_CPUTIME_ID) - cpu);
  }

  void closest(const std::vector<Ray>& rays) {
    double cpu = clock_of(CLOCK_THREAD_CPUTIME_ID);
    int64_t hits = 0, sum = 0;
    for (const Ray& r : rays) {
      RTCIntersectContext context;
      rtcInitIntersectContext(&context);
      RTCRayHit q;
      q.ray = {r.origin[0], r.origin[1], r.origin[2], r.near, r.direction[0], r.direction[1], r.direction[2], 0, r.far, 0xffffffffu, 0, 0};
      q.hit.geomID = RTC_INVALID_GEOMETRY_ID;
      rtcIntersect1(scene, &context, &q);
      if (q.hit.geomID != RTC_INVALID_GEOMETRY_ID) { hits++; sum += q.hit.primID; }
    }
    printf("%.6f %lld %lld\n", clock_of(CLOCK_THREAD_CPUTIME_ID) - cpu, (long long)hits, (long long)sum);
  }

  void any(const std::vector<Ray>& rays) {
    double cpu = clock_of(CLOCK_THREAD_CPUTIME_ID);
    int64_t hits = 0;
    for (const Ray& r : rays) {
      RTCIntersectContext context;
      rtcInitIntersectContext(&context);
      RTCRay q = {r.origin[0], r.origin[1], r.origin[2], r.near, r.direction[0], r.direction[1], r.direction[2], 0, r.far, 0xffffffffu, 0, 0};
      rtcOccluded1(scene, &context, &q);
      if (q.tfar < 0) hits++;
    }
    printf("%.6f %lld 0\n", clock_of(CLOCK_THREAD_CPUTIME_ID) - cpu, (long long)hits);
  }
};

int main(int argc, char** argv) {
  if (argc != 6) { fprintf(stderr, "usage: harness SCENE CLOSEST ANY CONFIG ROBUST\n"); return 2; }
  FILE* f = fopen(argv[1], "rb");
  if (!f) { perror(argv[1]); return 1; }
  auto counts = read_all<int32_t>(f, 2);
  Bench bench;
  bench.positions = read_all<float>(f, 3 * size_t(counts[0]));
  bench.triangles = read_all<uint32_t>(f, 3 * size_t(counts[1]));
  fclose(f);
  auto closest = read_rays(argv[2]), any = read_rays(argv[3]);
  bench.device = rtcNewDevice(argv[4]);
  if (!bench.device) { fprintf(stderr, "harness: no device for %s\n", argv[4]); return 1; }
  bench.robust = atoi(argv[5]) != 0;
  std::string command;
  while (std::cin >> command) {
    if (command == "build") bench.build();
    else if (command == "closest") bench.closest(closest);
    else if (command == "any") bench.any(any);
    else { fprintf(stderr, "harness: no command %s\n", command.c_str()); return 2; }
    fflush(stdout);
  }
}
