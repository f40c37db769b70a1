package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/photo"
	"hilum/internal/store"
)

// verify holds the folder of pictures to the database: a row without its file, a file without a
// row, a file with other bytes. It changes nothing and fails when it finds anything.
func verify(ctx context.Context, args []string) error {
	return withPhotos(ctx, func(s *store.Store, admin *store.Admin, folder photo.Folder) error {
		farm, err := pickFarm(ctx, admin, args)
		if err != nil {
			return err
		}
		rows, err := s.PhotosOf(ctx, farm)
		if err != nil {
			return err
		}
		wrong, err := compare(folder, farm, rows)
		if err != nil {
			return err
		}
		for _, line := range wrong {
			fmt.Println(line)
		}
		if len(wrong) > 0 {
			return fault.New(fault.Conflict, "photos", "%d of %d pictures are not as the database says",
				len(wrong), len(rows))
		}
		fmt.Printf("%d pictures are as the database says\n", len(rows))
		return nil
	})
}

// compare names each picture that is not as its row says, one line each.
func compare(folder photo.Folder, farm string, rows []feed.Photo) (wrong []string, err error) {
	there, err := folder.Hashes(farm)
	if err != nil {
		return nil, fmt.Errorf("listing the pictures: %w", err)
	}
	strays := map[string]bool{}
	for _, hash := range there {
		strays[hash] = true
	}
	for _, row := range rows {
		delete(strays, row.Hash)
		what, err := inspect(folder, farm, row)
		if err != nil {
			return nil, err
		}
		if what != "" {
			wrong = append(wrong, row.Hash+" "+what)
		}
	}
	for _, hash := range there {
		if strays[hash] {
			wrong = append(wrong, hash+" has a file and no row; a phone may still be sending it")
		}
	}
	return wrong, nil
}

func inspect(folder photo.Folder, farm string, row feed.Photo) (string, error) {
	file, err := folder.Open(farm, row.Hash)
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.NotFound {
		return "has a row and no file; restore it from a backup of the folder", nil
	}
	if err != nil {
		return "", err
	}
	defer file.Close()
	raw, err := io.ReadAll(file)
	switch {
	case err != nil:
		return "cannot be read from the disk", nil
	case len(raw) != row.Size || row.Clean != "" && photo.Hash(raw) != row.Clean:
		return "has other bytes than were stored; restore it from a backup of the folder", nil
	}
	return "", nil
}
