// Our notes, roots and proofs, judged by the Go project's own sumdb/note and sumdb/tlog.
package main

import (
	"encoding/hex"
	"encoding/json"
	"os"

	"golang.org/x/mod/sumdb/note"
	"golang.org/x/mod/sumdb/tlog"
)

type given struct {
	Notes     []struct{ Note, Key string }
	Sign      struct{ Text, Key string }
	Leaves    []string
	Inclusion []struct {
		Index, Size int64
		Proof       []string
	}
	Consistency []struct {
		Old, Size int64
		Proof     []string
	}
}

type answer struct {
	Notes       []bool   `json:"notes"`
	Signed      string   `json:"signed"`
	Roots       []string `json:"roots"`
	Inclusion   []bool   `json:"inclusion"`
	Consistency []bool   `json:"consistency"`
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

func hash(text string) (hash tlog.Hash) {
	bytes, err := hex.DecodeString(text)
	must(err)
	copy(hash[:], bytes)
	return
}

func hashes(texts []string) (all []tlog.Hash) {
	for _, text := range texts {
		all = append(all, hash(text))
	}
	return
}

func main() {
	var in given
	var out answer
	must(json.NewDecoder(os.Stdin).Decode(&in))
	for _, one := range in.Notes {
		verifier, err := note.NewVerifier(one.Key)
		must(err)
		_, err = note.Open([]byte(one.Note), note.VerifierList(verifier))
		out.Notes = append(out.Notes, err == nil)
	}
	signer, err := note.NewSigner(in.Sign.Key)
	must(err)
	signed, err := note.Sign(&note.Note{Text: in.Sign.Text}, signer)
	must(err)
	out.Signed = string(signed)
	var stored []tlog.Hash
	reader := tlog.HashReaderFunc(func(places []int64) (found []tlog.Hash, err error) {
		for _, place := range places {
			found = append(found, stored[place])
		}
		return
	})
	var roots []tlog.Hash
	for number, leaf := range hashes(in.Leaves) {
		more, err := tlog.StoredHashesForRecordHash(int64(number), leaf, reader)
		must(err)
		stored = append(stored, more...)
		root, err := tlog.TreeHash(int64(number+1), reader)
		must(err)
		roots = append(roots, root)
		out.Roots = append(out.Roots, hex.EncodeToString(root[:]))
	}
	for _, one := range in.Inclusion {
		leaf := hash(in.Leaves[one.Index])
		err := tlog.CheckRecord(hashes(one.Proof), one.Size, roots[one.Size-1], one.Index, leaf)
		out.Inclusion = append(out.Inclusion, err == nil)
	}
	for _, one := range in.Consistency {
		err := tlog.CheckTree(hashes(one.Proof), one.Size, roots[one.Size-1], one.Old, roots[one.Old-1])
		out.Consistency = append(out.Consistency, err == nil)
	}
	must(json.NewEncoder(os.Stdout).Encode(out))
}
