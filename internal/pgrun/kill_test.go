package pgrun

import (
	"strings"
	"syscall"
	"testing"
	"time"
)

// Each test here keeps fsync on and counts every row whose commit was acknowledged.

func TestAcknowledgedRowsSurviveTheKilledProgram(t *testing.T) {
	data := folder(t)
	for round := range 3 {
		v := startVictim(t, data)
		acknowledge(t, v, 100)
		expectAll(t, data, v.kill(t), round)
	}
}

func TestAnOrphanedPostmasterIsStoppedAndReplaced(t *testing.T) {
	data := folder(t)
	v := startVictim(t, data, helperOrphan+"=1")
	acknowledge(t, v, 100)
	last := v.kill(t)
	if state, _ := describe(v.postmaster); state == "" {
		t.Fatal("the postmaster is gone: this test would prove nothing")
	}
	expectAll(t, data, last, 0)
}

func TestAcknowledgedRowsSurviveProgramAndPostmasterKilledTogether(t *testing.T) {
	data := folder(t)
	v := startVictim(t, data)
	acknowledge(t, v, 100)
	// The postmaster first: killed after its parent it would be shutting down already.
	if err := syscall.Kill(v.postmaster, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	expectAll(t, data, v.kill(t), 0)
}

func TestAKilledPostmasterIsReportedAndTheNextStartRecovers(t *testing.T) {
	data := folder(t)
	v := startVictim(t, data)
	acknowledge(t, v, 100)
	last := v.kill(t)
	s := started(t, Options{DataDir: data})
	if err := syscall.Kill(s.PID(), syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	if err := ended(s); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("Done() gave %v, want the reason", err)
	}
	if err := s.Stop(time.Second); err != nil {
		t.Fatalf("Stop() after the end = %v", err)
	}
	expectAll(t, data, last, 0)
}

func TestAPidFileOfAnUnrelatedProcessDoesNotBlockForEver(t *testing.T) {
	data := folder(t)
	s := started(t, Options{DataDir: data, Volatile: true})
	cluster := s.layout.cluster
	if err := s.Stop(30 * time.Second); err != nil {
		t.Fatal(err)
	}
	other := unrelated(t, s.owner)
	writePID(t, cluster, other, s.owner)
	started(t, Options{DataDir: data, Volatile: true})
	if state, _ := describe(other); state == "" {
		t.Error("the unrelated process was ended")
	}
}

// acknowledge lets the helper commit a number of rows.
func acknowledge(t *testing.T, v *victim, rows int) {
	t.Helper()
	for range rows {
		v.next(t)
	}
}

// expectAll starts the cluster again and demands every acknowledged row.
func expectAll(t *testing.T, data string, last, round int) {
	t.Helper()
	began := time.Now()
	s, err := Start(limit(t), Options{DataDir: data})
	if err != nil {
		t.Fatalf("round %d: starting again: %v", round, err)
	}
	rows, highest := count(t, s)
	// One more may have been committed without its acknowledgement being read.
	if last == 0 || rows != highest || highest < last {
		t.Errorf("round %d: %d rows up to %d, acknowledged up to %d", round, rows, highest, last)
	}
	t.Logf("round %d: acknowledged %d, found %d, up again in %s", round, last, rows,
		time.Since(began).Round(time.Millisecond))
	if err := s.Stop(30 * time.Second); err != nil {
		t.Errorf("round %d: Stop() = %v", round, err)
	}
}
